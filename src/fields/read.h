// Reading a described struct from JSON.
//
//   ReadContext context;
//   TRY(Machine machine, read<Machine>(json, context));
//   // context.warnings: keys that nothing knows, each a message
//
// The first fault ends the reading with its sentence. A field that is absent keeps the value of
// T{}, unless it is required; an absent struct is read as an empty one, so that what *it* requires
// is asked for by name (make it std::optional to allow its absence). null is absent for an
// optional and wrong for the rest.
#pragma once

#include <vector>

#include "base/result.h"
#include "fields/field.h"
#include "fields/json.h"

namespace drawoff::fields {

struct ReadContext {
  Path path = {};  // where the document's root stands, for the sentences
  std::vector<base::Message> warnings = {};
};

namespace detail {
// A number of JSON, whichever way the library keeps it.
std::optional<double> number_in(const Json& json);
std::optional<base::Error> read_object(
    void* into, const Object& object, const Json& json, const Path& path, ReadContext& context);
}  // namespace detail

template <class T>
base::Result<T> read(const Json& json, ReadContext& context) {
  T out{};
  const Path path = context.path;
  if (auto error = detail::read_object(&out, detail::ObjectOf<T>::value, json, path, context)) {
    return *std::move(error);
  }
  return out;
}

// For a Codec or a document whose parts stand elsewhere: as read, at the path given.
template <class T>
base::Result<T> read_at(const Json& json, const Path& path, ReadContext& context) {
  T out{};
  if (auto error = detail::read_object(&out, detail::ObjectOf<T>::value, json, path, context)) {
    return *std::move(error);
  }
  return out;
}

}  // namespace drawoff::fields
