#include "fields/read.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "fields/errors.h"
#include "fields/quote.h"

namespace drawoff::fields {

namespace {

using base::Error;
using detail::FieldInfo;
using detail::Kind;
using detail::number_in;
using detail::Object;
using detail::Type;

std::vector<std::string> choices_of(const Type& type) {
  const Type& leaf = type.kind == Kind::kOptional ? *type.inner : type;
  std::vector<std::string> out;
  for (std::size_t i = 0; i < leaf.names; ++i) out.emplace_back(leaf.name(i));
  return out;
}

// Its range is then a number of entries or characters, which would mislead beside the meaning.
bool counts_entries(const Type& type) {
  const Type& leaf = type.kind == Kind::kOptional ? *type.inner : type;
  return leaf.kind == Kind::kList || leaf.kind == Kind::kText;
}

bool within(Range range, double x) { return x >= range.low && x <= range.high; }

// A whole number: 5 and 5.0 alike, as JSON Schema has it.
std::optional<long long> integer_in(const Json& json) {
  if (const auto* u = json.get_ptr<const Json::number_unsigned_t*>()) {
    if (*u > static_cast<Json::number_unsigned_t>(std::numeric_limits<long long>::max())) {
      return std::nullopt;
    }
    return static_cast<long long>(*u);
  }
  if (const auto* i = json.get_ptr<const Json::number_integer_t*>()) return *i;
  if (const auto* f = json.get_ptr<const Json::number_float_t*>()) {
    if (*f == std::floor(*f) && std::abs(*f) < 9e15) return static_cast<long long>(*f);
  }
  return std::nullopt;
}

struct Reader {
  ReadContext& context;

  // NOLINTNEXTLINE(misc-no-recursion): as deep as the tables are nested.
  std::optional<Error> value(
      void* into, const Type& type, const Json& json, const Place& place, Range each) {
    switch (type.kind) {
      case Kind::kNumber: {
        const auto x = number_in(json);
        if (!x) return wrong_type(place, json, Wanted::kNumber);
        if (!within(place.range, *x)) return out_of_range(place, *x);
        type.set_number(into, place.unit != nullptr ? units::to_si(*place.unit, *x) : *x);
        return std::nullopt;
      }
      case Kind::kInteger: {
        const auto n = integer_in(json);
        const auto x = number_in(json);
        if (!x || (!n && *x != std::floor(*x))) return wrong_type(place, json, Wanted::kInteger);
        if (!within(place.range, *x)) return out_of_range(place, *x);
        if (!n || *n < type.lowest || *n > type.highest) {
          // What the table leaves open is limited by what the program can hold.
          Place limited = place;
          limited.range.low = std::max(place.range.low, static_cast<double>(type.lowest));
          limited.range.high = std::min(place.range.high, static_cast<double>(type.highest));
          return out_of_range(limited, *x);
        }
        type.set_integer(into, *n);
        return std::nullopt;
      }
      case Kind::kBoolean: {
        const auto* b = json.get_ptr<const bool*>();
        if (b == nullptr) return wrong_type(place, json, Wanted::kBoolean);
        type.set_integer(into, *b ? 1 : 0);
        return std::nullopt;
      }
      case Kind::kText: {
        const auto* text = json.get_ptr<const std::string*>();
        if (text == nullptr) return wrong_type(place, json, Wanted::kText);
        const std::size_t count = utf8_count(*text);
        if (!within(place.range, static_cast<double>(count))) {
          return wrong_size(place, count, Wanted::kText);
        }
        *type.text(into) = *text;
        return std::nullopt;
      }
      case Kind::kChoice: {
        const auto* text = json.get_ptr<const std::string*>();
        if (text == nullptr) return wrong_type(place, json, Wanted::kText, choices_of(type));
        for (std::size_t i = 0; i < type.names; ++i) {
          if (type.name(i) == *text) {
            type.set_integer(into, static_cast<long long>(i));
            return std::nullopt;
          }
        }
        return not_a_choice(place, *text, choices_of(type));
      }
      case Kind::kOptional:
        type.clear(into);
        if (json.is_null()) return std::nullopt;
        return value(type.append(into), *type.inner, json, place, each);
      case Kind::kList: {
        const auto* array = json.get_ptr<const Json::array_t*>();
        if (array == nullptr) return wrong_type(place, json, Wanted::kList);
        if (!within(place.range, static_cast<double>(array->size()))) {
          return wrong_size(place, array->size(), Wanted::kList);
        }
        type.clear(into);
        for (std::size_t i = 0; i < array->size(); ++i) {
          const Place entry{place.path[i], place.meaning, place.unit, each};
          auto error = value(type.append(into), *type.inner, (*array)[i], entry, {});
          if (error) return error;
        }
        return std::nullopt;
      }
      case Kind::kObject:
        if (!json.is_object()) return wrong_type(place, json, Wanted::kObject);
        return object(into, *type.object, json, place.path);
      case Kind::kCustom:
        return type.read(into, json, place, context);
    }
    return std::nullopt;
  }

  // NOLINTNEXTLINE(misc-no-recursion): as deep as the tables are nested.
  std::optional<Error> object(void* into,
                              const Object& object,
                              const Json& json,
                              const Path& path) {
    const auto* given = json.get_ptr<const Json::object_t*>();
    if (given == nullptr) return wrong_type({.path = path, .meaning = ""}, json, Wanted::kObject);
    const auto known = [&object](std::string_view key) {
      return std::any_of(object.fields.begin(), object.fields.end(), [key](const FieldInfo& f) {
        return f.key == key;
      });
    };

    for (const FieldInfo& field : object.fields) {
      const auto found = std::find_if(given->begin(), given->end(), [&field](const auto& item) {
        return item.first == field.key;
      });
      const Json* at = found == given->end() ? nullptr : &found->second;
      const bool stays = field.ask == Ask::kMayLack || field.type->kind != Kind::kObject;
      if (at == nullptr && field.ask != Ask::kRequired && stays) continue;

      const Place place{path / field.key,
                        "field." + std::string(object.name) + '.' + std::string(field.key),
                        field.unit,
                        field.range};
      std::optional<Error> error;
      if (at != nullptr) {
        error = value(field.member(into), *field.type, *at, place, field.each);
      } else if (field.ask == Ask::kRequired) {
        std::vector<std::string_view> strangers;
        for (const auto& [key, ignored] : *given) {
          if (!known(key)) strangers.push_back(key);
        }
        Place asked = place;
        if (counts_entries(*field.type)) asked.range = {};
        error = missing(asked, choices_of(*field.type), nearest(field.key, strangers));
      } else {
        error = value(field.member(into), *field.type, Json::object(), place, {});
      }
      if (error) return error;
    }

    std::vector<std::string_view> keys;
    for (const FieldInfo& field : object.fields) keys.push_back(field.key);
    Json* rest = object.unknown != nullptr ? object.unknown(into) : nullptr;
    if (rest != nullptr) *rest = Json();
    for (const auto& [key, item] : *given) {
      if (known(key)) continue;
      context.warnings.push_back(unknown_field(path, key, keys, rest != nullptr));
      if (rest == nullptr) continue;
      if (rest->is_null()) *rest = Json::object();
      rest->get_ptr<Json::object_t*>()->Json::object_t::Container::emplace_back(key, item);
    }
    return object.check != nullptr ? object.check(into, path) : std::nullopt;
  }
};

}  // namespace

namespace detail {

std::optional<double> number_in(const Json& json) {
  if (const auto* f = json.get_ptr<const Json::number_float_t*>()) return *f;
  if (const auto* u = json.get_ptr<const Json::number_unsigned_t*>()) {
    return static_cast<double>(*u);
  }
  if (const auto* i = json.get_ptr<const Json::number_integer_t*>()) return static_cast<double>(*i);
  return std::nullopt;
}

std::optional<Error> read_object(
    void* into, const Object& object, const Json& json, const Path& path, ReadContext& context) {
  return Reader{context}.object(into, object, json, path);
}

}  // namespace detail

}  // namespace drawoff::fields
