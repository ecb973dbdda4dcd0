#include "calmshaft/measure/shares.hpp"

#include <doctest/doctest.h>

#include <stdexcept>
#include <vector>

using namespace calmshaft;

TEST_CASE("a triangular twist spends on each flank the share of time that its corners say") {
  // Source: geometry. From -3 to 5 and back at even speed, flanks at +-1: 4, 2 and 2 parts of 8.
  const std::vector<double> twist{-3.0, 5.0, -3.0};
  const std::vector<double> time{0.0, 0.3, 1.7};
  const ContactShares shares = contact_shares(twist, time, 1.0);
  CHECK(shares.drive == doctest::Approx(0.50).epsilon(1e-14));
  CHECK(shares.separated == doctest::Approx(0.25).epsilon(1e-14));
  CHECK(shares.coast == doctest::Approx(0.25).epsilon(1e-14));
}

TEST_CASE("the shares of a straight twist do not depend on where the nodes lie") {
  // Source: a straight line cut into pieces is the same line.
  std::vector<double> twist, time;
  for (const double t : {0.0, 0.11, 0.2, 0.57, 0.83, 1.0}) {
    time.push_back(t);
    twist.push_back(4.0 * t - 1.5);
  }
  const ContactShares shares = contact_shares(twist, time, 0.5);
  CHECK(shares.drive == doctest::Approx(0.50).epsilon(1e-14));
  CHECK(shares.separated == doctest::Approx(0.25).epsilon(1e-14));
  CHECK(shares.drive + shares.separated + shares.coast == doctest::Approx(1.0).epsilon(1e-15));
}

TEST_CASE("shares are of time, so a slow part of the cycle weighs more") {
  // Source: definition.
  const ContactShares shares =
      contact_shares(std::vector{2.0, 2.0, -2.0, -2.0}, std::vector{0.0, 3.0, 3.0001, 4.0}, 1.0);
  CHECK(shares.drive == doctest::Approx(0.75).epsilon(1e-4));
  CHECK(shares.coast == doctest::Approx(0.25).epsilon(1e-4));
}

TEST_CASE("a mesh that never opens drives all the time and one that only touches is separated") {
  const std::vector<double> time{0.0, 0.5, 1.0};
  CHECK(contact_shares(std::vector{0.2, 0.3, 0.2}, time, 0.1).drive == 1.0);
  CHECK(contact_shares(std::vector{0.1, 0.1, 0.1}, time, 0.1).separated == 1.0);
  CHECK(contact_shares(std::vector{-0.2, -0.3, -0.2}, time, 0.0).coast == 1.0);
}

TEST_CASE("shares of nothing, of unequal lists or of time that stands still are refused") {
  CHECK_THROWS_AS(contact_shares(std::vector{1.0}, std::vector{0.0}, 0.1), std::invalid_argument);
  CHECK_THROWS_AS(contact_shares(std::vector{1.0, 2.0}, std::vector{0.0}, 0.1), std::invalid_argument);
  CHECK_THROWS_AS(contact_shares(std::vector{1.0, 2.0}, std::vector{0.0, 0.0}, 0.1), std::invalid_argument);
}
