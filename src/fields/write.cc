#include "fields/write.h"

#include <utility>

#include "base/check.h"

namespace drawoff::fields::detail {

namespace {

void append(Json& object, std::string_view key, Json value) {
  object.get_ptr<Json::object_t*>()->Json::object_t::Container::emplace_back(std::string(key),
                                                                             std::move(value));
}

// Tables reach members through one kind of pointer, for reading and for writing; nothing here
// changes what it points at.
void* writable(const void* from) { return const_cast<void*>(from); }  // NOLINT

}  // namespace

// NOLINTNEXTLINE(misc-no-recursion): as deep as the value is nested.
Json write_value(const void* from, const Type& type, const units::Unit* unit) {
  switch (type.kind) {
    case Kind::kNumber: {
      const double si = type.number(from);
      return json_number(unit != nullptr ? units::from_si_shortest(*unit, si) : si);
    }
    case Kind::kInteger:
      return type.integer(from);
    case Kind::kBoolean:
      return type.integer(from) != 0;
    case Kind::kText:
      return *type.text(writable(from));
    case Kind::kChoice: {
      const long long index = type.integer(from);
      CHECK(index >= 0);  // every value of the enum is in its table
      return std::string(type.name(static_cast<std::size_t>(index)));
    }
    case Kind::kOptional:
      if (type.size(from) == 0) return nullptr;
      return write_value(type.item(from, 0), *type.inner, unit);
    case Kind::kList: {
      Json out = Json::array();
      for (std::size_t i = 0; i < type.size(from); ++i) {
        out.push_back(write_value(type.item(from, i), *type.inner, unit));
      }
      return out;
    }
    case Kind::kObject:
      return write_object(from, *type.object);
    case Kind::kCustom: {
      Json out;
      type.write(from, unit, out);
      return out;
    }
  }
  return nullptr;
}

// NOLINTNEXTLINE(misc-no-recursion): as deep as the value is nested.
Json write_object(const void* from, const Object& object) {
  Json out = Json::object();
  for (const FieldInfo& field : object.fields) {
    const void* member = field.member(writable(from));
    const bool absent = field.type->kind == Kind::kOptional && field.type->size(member) == 0;
    if (absent && field.absent == Absent::kOmitted) continue;
    append(out, field.key, write_value(member, *field.type, field.unit));
  }
  const Json* unknown = object.unknown != nullptr ? object.unknown(writable(from)) : nullptr;
  if (unknown != nullptr && unknown->is_object()) {
    for (const auto& [key, value] : *unknown->get_ptr<const Json::object_t*>()) {
      append(out, key, value);
    }
  }
  return out;
}

}  // namespace drawoff::fields::detail
