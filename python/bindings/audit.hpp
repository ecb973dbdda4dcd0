// The books of a run as plain values.
#pragma once

#include <pybind11/pybind11.h>

#include "calmshaft/model/energy.hpp"

inline pybind11::dict audit_dict(const calmshaft::EnergyAudit& audit) {
  namespace py = pybind11;
  return py::dict(py::arg("gas_work") = audit.gas_work, py::arg("engine_friction") = audit.engine_friction,
                  py::arg("couplings") = audit.couplings, py::arg("loads") = audit.loads,
                  py::arg("stored_change") = audit.stored_change, py::arg("defect") = audit.defect,
                  py::arg("relative_defect") = audit.relative_defect());
}
