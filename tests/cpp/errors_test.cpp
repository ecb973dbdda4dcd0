// Wording of faults: our own contract, no outside source.
#include "calmshaft/core/errors.hpp"

#include <doctest/doctest.h>

#include <stdexcept>
#include <string>

using calmshaft::Fault;
using calmshaft::LineError;

namespace {

const Fault negative{"flywheel.inertia", "-0.45 kg*m^2", "must be positive",
                     "weigh it and write \"0.45 kg*m^2\""};
const Fault missing{"gearbox.ahead.ratio", "", "is missing", "write input turns per output turn"};

}  // namespace

TEST_CASE("a fault is told on one line with element, value, rule and advice") {
  CHECK(calmshaft::describe(negative) ==
        "flywheel.inertia: is -0.45 kg*m^2, must be positive; weigh it and write \"0.45 kg*m^2\"");
}

TEST_CASE("a fault without value or advice leaves no stray punctuation") {
  CHECK(calmshaft::describe({"engine", "", "is missing", ""}) == "engine: is missing");
}

TEST_CASE("a warning says that it is one") {
  Fault warning = negative;
  warning.warning = true;
  CHECK(calmshaft::describe(warning).rfind("warning: flywheel.inertia", 0) == 0);
}

TEST_CASE("a line error lists all faults, one a line, in the order found") {
  const LineError error({negative, missing});
  CHECK(std::string(error.what()) == calmshaft::describe(negative) + "\n" + calmshaft::describe(missing));
}

TEST_CASE("a line error caught as a standard exception still carries its faults") {
  try {
    throw LineError({missing});
  } catch (const std::invalid_argument& caught) {
    const auto* error = dynamic_cast<const LineError*>(&caught);
    REQUIRE(error != nullptr);
    REQUIRE(error->faults().size() == 1);
    CHECK(error->faults()[0].path == "gearbox.ahead.ratio");
  }
}
