// Vectors handed to NumPy without a copy.
#pragma once

#include <pybind11/numpy.h>

#include <utility>
#include <vector>

template <class Value>
pybind11::array_t<Value> to_array(std::vector<Value>&& values, std::vector<pybind11::ssize_t> shape) {
  auto* owned = new std::vector<Value>(std::move(values));
  pybind11::capsule owner(owned, [](void* pointer) { delete static_cast<std::vector<Value>*>(pointer); });
  return pybind11::array_t<Value>(std::move(shape), owned->data(), owner);
}

template <class Value>
pybind11::array_t<Value> to_array(std::vector<Value>&& values) {
  const auto size = static_cast<pybind11::ssize_t>(values.size());
  return to_array(std::move(values), {size});
}

inline pybind11::list channel_list(std::vector<std::vector<double>>& channels) {
  pybind11::list arrays;
  for (auto& channel : channels) arrays.append(to_array(std::move(channel)));
  return arrays;
}
