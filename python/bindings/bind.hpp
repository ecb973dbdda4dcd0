// Each room of the library puts its names into the extension by one function.
#pragma once

#include <pybind11/pybind11.h>

void bind_errors(pybind11::module_& module);
void bind_line(pybind11::module_& module);
void bind_linear(pybind11::module_& module);
void bind_oscillation(pybind11::module_& module);
void bind_parts(pybind11::module_& module);
void bind_manoeuvre(pybind11::module_& module);
void bind_measure(pybind11::module_& module);
void bind_simulate(pybind11::module_& module);
void bind_sweep(pybind11::module_& module);
void bind_time_history(pybind11::module_& module);
