// Volumes of bore 80 mm, stroke 90 mm, rod 145 mm, ratio 10: closed form, worked out apart from this code.
#include "calmshaft/engine/cylinder_volume.hpp"

#include <doctest/doctest.h>

#include "sample_engine.hpp"

using namespace calmshaft;
using sample::degree;

TEST_CASE("cylinder volume follows the piston") {
  Engine engine = sample::engine();
  engine.bore = 0.08;
  engine.stroke = 0.09;
  engine.rod_length = 0.145;
  engine.compression_ratio = 10.0;
  const CylinderVolume cylinder = cylinder_volume(engine);
  // tolerance 2e-8: the printed digits
  CHECK(cylinder.at(0.0) == doctest::Approx(50.265482e-6).epsilon(2e-8));
  CHECK(cylinder.at(30 * degree) == doctest::Approx(89.398082e-6).epsilon(2e-8));
  CHECK(cylinder.at(90 * degree) == doctest::Approx(312.447788e-6).epsilon(2e-8));
  CHECK(cylinder.at(150 * degree) == doctest::Approx(481.178745e-6).epsilon(2e-8));
}

TEST_CASE("swept and clearance volume make the compression ratio") {
  const double swept = swept_volume(0.092, 0.098);
  const double clearance = clearance_volume(swept, 18.5);
  CHECK((swept + clearance) / clearance == doctest::Approx(18.5).epsilon(1e-14));
}

TEST_CASE("four strokes take two turns, two strokes one") {
  CHECK(cycle_angle(4) == doctest::Approx(2.0 * two_pi).epsilon(1e-15));
  CHECK(cycle_angle(2) == doctest::Approx(two_pi).epsilon(1e-15));
}
