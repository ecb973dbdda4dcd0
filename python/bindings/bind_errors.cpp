#include <pybind11/gil_safe_call_once.h>
#include <pybind11/stl.h>

#include "bind.hpp"
#include "calmshaft/core/errors.hpp"
#include "calmshaft/core/near_match.hpp"

namespace py = pybind11;
using calmshaft::Fault;
using calmshaft::LineError;

namespace {

bool equal(const Fault& a, const Fault& b) {
  return a.path == b.path && a.value == b.value && a.rule == b.rule && a.advice == b.advice &&
         a.warning == b.warning;
}

// Faults cross process borders inside a pickled LineError.
py::tuple to_state(const Fault& fault) {
  return py::make_tuple(fault.path, fault.value, fault.rule, fault.advice, fault.warning);
}

Fault from_state(const py::tuple& state) {
  return {state[0].cast<std::string>(), state[1].cast<std::string>(), state[2].cast<std::string>(),
          state[3].cast<std::string>(), state[4].cast<bool>()};
}

void bind_fault(py::module_& module) {
  py::class_<Fault>(module, "Fault", "One fault of a line's description.")
      .def(py::init<std::string, std::string, std::string, std::string, bool>(), py::arg("path"),
           py::arg("value"), py::arg("rule"), py::arg("advice"), py::arg("warning") = false)
      .def_readonly("path", &Fault::path, "Key in the line file, e.g. plate.stages[0].stiffness.")
      .def_readonly("value", &Fault::value, "The value as understood, with its unit.")
      .def_readonly("rule", &Fault::rule, "What must hold.")
      .def_readonly("advice", &Fault::advice, "What to write instead.")
      .def_readonly("warning", &Fault::warning, "True where the line can be run all the same.")
      .def("__str__", &calmshaft::describe)
      .def("__repr__", [](const Fault& fault) { return "<Fault " + calmshaft::describe(fault) + ">"; })
      .def("__eq__", &equal, py::is_operator())
      .def("__hash__", [](const Fault& fault) { return py::hash(to_state(fault)); })
      .def(py::pickle(&to_state, &from_state));
}

PYBIND11_CONSTINIT py::gil_safe_call_once_and_store<py::object> line_error_type;

void translate_line_error(std::exception_ptr thrown) {
  try {
    if (thrown) std::rethrow_exception(thrown);
  } catch (const LineError& error) {
    const py::object& type = line_error_type.get_stored();
    py::object instance = type(error.what());
    instance.attr("faults") = py::tuple(py::cast(error.faults()));
    py::set_error(type, instance);
  }
}

void bind_line_error(py::module_& module) {
  const auto make_type = [&module]() -> py::object {
    return py::exception<LineError>(module, "LineError", PyExc_ValueError);
  };
  const py::object& type = line_error_type.call_once_and_store_result(make_type).get_stored();
  type.attr("__doc__") = "The description of a line is wrong. `faults` is a tuple of every Fault found.";
  type.attr("faults") = py::tuple();
  py::register_exception_translator(&translate_line_error);
  module.def(
      "raise_line_error", [](std::vector<Fault> faults) { throw LineError(std::move(faults)); },
      py::arg("faults"), "Raises LineError with these faults, worded as those that the checks find.");
}

}  // namespace

void bind_errors(py::module_& module) {
  bind_fault(module);
  bind_line_error(module);
  py::register_exception<calmshaft::SolveError>(module, "SolveError", PyExc_RuntimeError).doc() =
      "The numbers failed; the message says when and where.";
  module.def("near_matches", &calmshaft::near_matches, py::arg("name"), py::arg("known"),
             py::arg("at_most") = 3,
             "The known names nearest to a misspelt one, nearest first; empty where none is near.");
}
