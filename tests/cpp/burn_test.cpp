// Expected figures: closed form of the Wiebe function, worked out apart from this code. The form with a = 5
// as in Ferguson and Kirkpatrick, Internal Combustion Engines, ch. 2; m = 2 with it in Heywood (value from
// memory).
#include "calmshaft/engine/burn.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

#include "sample_engine.hpp"

using namespace calmshaft;
using sample::degree;

namespace {

double angle_of_fraction(const Wiebe& burn, double fraction) {
  double low = burn.start;
  double high = burn.start + burn.duration;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (wiebe_burnt_fraction(burn, middle) < fraction ? low : high) = middle;
  }
  return low;
}

}  // namespace

TEST_CASE("the Wiebe function with a = 5 and m = 2 has its known values") {
  const Wiebe burn{0.0, 1.0, 5.0, 2.0};
  // tolerance 1e-9 where ten digits are printed, 2e-7 where seven
  CHECK(wiebe_burnt_fraction(burn, 1.0) == doctest::Approx(0.9932620530).epsilon(1e-9));
  CHECK(wiebe_burnt_fraction(burn, 0.5) == doctest::Approx(0.4647385715).epsilon(1e-9));
  CHECK(angle_of_fraction(burn, 0.1) == doctest::Approx(0.2762078).epsilon(2e-7));
  CHECK(angle_of_fraction(burn, 0.5) == doctest::Approx(0.5175494).epsilon(2e-7));
  CHECK(angle_of_fraction(burn, 0.9) == doctest::Approx(0.7722334).epsilon(2e-7));
  CHECK(wiebe_burn_rate(burn, 0.5108730) == doctest::Approx(2.0099601).epsilon(2e-8));
}

TEST_CASE("the Wiebe function that burns 99.9 percent has its known values") {
  struct Row {
    double exponent, half, middle, peak_rate, peak_at;
  };
  const std::array<Row, 3> rows{Row{2.0, 0.5783035, 0.4646895, 2.2385995, 0.4586949},
                                Row{1.0, 0.8221720, 0.3167702, 2.2544272, 0.2690398},
                                Row{0.5, 0.9130359, 0.2159363, 2.7029870, 0.1325443}};
  for (const Row& row : rows) {
    CAPTURE(row.exponent);
    const Wiebe burn{0.0, 1.0, 6.907755, row.exponent};
    CHECK(wiebe_burnt_fraction(burn, 1.0) == doctest::Approx(0.999).epsilon(1e-6));
    CHECK(wiebe_burnt_fraction(burn, 0.5) == doctest::Approx(row.half).epsilon(1e-6));
    CHECK(angle_of_fraction(burn, 0.5) == doctest::Approx(row.middle).epsilon(1e-6));
    CHECK(wiebe_burn_rate(burn, row.peak_at) == doctest::Approx(row.peak_rate).epsilon(1e-6));
  }
}

TEST_CASE("burning from -20 degrees over 40 degrees passes its marks") {
  const Wiebe burn{-20 * degree, 40 * degree, 5.0, 2.0};
  CHECK(angle_of_fraction(burn, 0.1) / degree == doctest::Approx(-8.951687).epsilon(1e-6));
  CHECK(angle_of_fraction(burn, 0.5) / degree == doctest::Approx(0.701976).epsilon(1e-6));
  CHECK(angle_of_fraction(burn, 0.9) / degree == doctest::Approx(10.889335).epsilon(1e-6));
}

TEST_CASE("nothing burns before the start or after the end") {
  const Wiebe burn{0.1, 0.5, 6.9, 0.7};
  CHECK(wiebe_burnt_fraction(burn, 0.05) == 0.0);
  CHECK(wiebe_burn_rate(burn, 0.05) == 0.0);
  CHECK(wiebe_burnt_fraction(burn, 2.0) == wiebe_burnt_fraction(burn, 0.6000001));
  CHECK(wiebe_burn_rate(burn, 2.0) == 0.0);
}

TEST_CASE("the burn integral of a constant is the burnt fraction, also where the start is sharp") {
  for (const double exponent : {0.0, 0.3, 0.7, 2.0}) {
    const Wiebe burn{-0.03, 0.87, 6.9, exponent};
    const BurnIntegral integral(burn, [](double) { return 1.0; });
    for (double angle = -0.1; angle < 1.0; angle += 0.00137) {
      CAPTURE(exponent);
      CAPTURE(angle);
      // 1e-9: what the table promises
      REQUIRE(std::abs(integral.at(angle) - wiebe_burnt_fraction(burn, angle)) < 1e-9);
    }
  }
}

TEST_CASE("the burn integral takes its weight at the crank angle of burning") {
  // By parts: integral of angle dx = angle x - integral of x, the last by the midpoint rule (error 1e-9).
  const Wiebe burn{0.2, 0.8, 5.0, 2.0};
  const BurnIntegral integral(burn, [](double angle) { return angle; });
  constexpr int steps = 20000;
  double area = 0.0;
  for (int i = 0; i < steps; ++i)
    area += wiebe_burnt_fraction(burn, 0.2 + 0.8 * (i + 0.5) / steps) * 0.8 / steps;
  CHECK(integral.at(1.0) == doctest::Approx(wiebe_burnt_fraction(burn, 1.0) - area).epsilon(1e-8));
}
