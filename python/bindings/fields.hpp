// A plain C++ struct as a Python class: keyword creation, named fields, repr, equality and pickling
// all follow from one list of its fields.
#pragma once

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <functional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "calmshaft/core/near_match.hpp"

template <class T>
class Fields {
 public:
  Fields(pybind11::module_& module, const char* name, const char* doc)
      : name_(name), class_(module, name, doc) {}

  template <class Member>
  Fields& field(const char* name, Member T::* member, const char* doc) {
    class_.def_readwrite(name, member, doc);
    return remember(name, member);
  }

  // Lists come as tuples of copies and are assigned whole, so that no change is silently lost in a copy.
  template <class Element>
  Fields& field(const char* name, std::vector<Element> T::* member, const char* doc) {
    class_.def_property(
        name, [member](const T& self) { return pybind11::tuple(pybind11::cast(self.*member)); },
        [member](T& self, std::vector<Element> values) { self.*member = std::move(values); }, doc);
    return remember(name, member);
  }

  void finish() {
    const std::vector<Field> fields = fields_;
    const std::string name = name_;
    class_.def(pybind11::init(
        [fields, name](const pybind11::kwargs& values) { return create(fields, name, values); }));
    class_.def("__repr__", [fields, name](const T& self) { return describe(fields, name, self); });
    class_.def(
        "__eq__",
        [fields](const T& self, const T& other) { return state(fields, self).equal(state(fields, other)); },
        pybind11::is_operator());
    class_.def(pybind11::pickle(
        [fields](const T& self) { return state(fields, self); },
        [fields, name](const pybind11::dict& values) { return create(fields, name, values); }));
  }

 private:
  struct Field {
    std::string name;
    std::function<pybind11::object(const T&)> read;
    std::function<void(T&, pybind11::handle)> write;
  };

  template <class Member>
  Fields& remember(const char* name, Member T::* member) {
    fields_.push_back({name, [member](const T& self) { return pybind11::cast(self.*member); },
                       [member](T& self, pybind11::handle value) { self.*member = value.cast<Member>(); }});
    return *this;
  }

  static const Field& find(const std::vector<Field>& fields, const std::string& owner,
                           const std::string& wanted) {
    std::vector<std::string> names;
    for (const Field& field : fields) {
      if (field.name == wanted) return field;
      names.push_back(field.name);
    }
    std::string message = owner + " has no field '" + wanted + "'";
    const auto near = calmshaft::near_matches(wanted, names, 1);
    if (!near.empty()) message += "; did you mean '" + near.front() + "'?";
    throw pybind11::type_error(message);
  }

  static T create(const std::vector<Field>& fields, const std::string& owner, const pybind11::dict& values) {
    T made{};
    for (const auto& [key, value] : values) {
      const Field& field = find(fields, owner, key.template cast<std::string>());
      try {
        field.write(made, value);
      } catch (const pybind11::cast_error&) {
        throw pybind11::type_error(owner + "." + field.name + " cannot take " +
                                   pybind11::repr(value).template cast<std::string>());
      }
    }
    return made;
  }

  static pybind11::dict state(const std::vector<Field>& fields, const T& self) {
    pybind11::dict values;
    for (const Field& field : fields) values[field.name.c_str()] = field.read(self);
    return values;
  }

  static std::string describe(const std::vector<Field>& fields, const std::string& name, const T& self) {
    std::string text;
    for (const Field& field : fields) {
      text += (text.empty() ? "" : ", ") + field.name + "=";
      text += pybind11::repr(field.read(self)).template cast<std::string>();
    }
    return name + "(" + text + ")";
  }

  std::string name_;
  pybind11::class_<T> class_;
  std::vector<Field> fields_;
};
