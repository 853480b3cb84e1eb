// Writing a described struct as JSON: the fields in the order of the table, numbers in the unit of
// the key (units::from_si_shortest: what was typed comes back), then what was unknown when read.
#pragma once

#include "fields/field.h"
#include "fields/json.h"

namespace drawoff::fields {

namespace detail {
Json write_object(const void* from, const Object& object);
Json write_value(const void* from, const Type& type, const units::Unit* unit);
}  // namespace detail

template <class T>
Json write(const T& value) {
  return detail::write_object(&value, detail::ObjectOf<T>::value);
}

}  // namespace drawoff::fields
