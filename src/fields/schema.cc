#include "fields/schema.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/check.h"
#include "fields/write.h"

namespace drawoff::fields::detail {

namespace {

std::string meaning_of(const Object& object, const FieldInfo& field) {
  return "field." + std::string(object.name) + '.' + std::string(field.key);
}

// Adds minimum and maximum under the names that the kind of value has for them.
void limit(Json& out, const char* low, const char* high, Range range) {
  if (std::isfinite(range.low)) out[low] = json_number(range.low);
  if (std::isfinite(range.high)) out[high] = json_number(range.high);
}

// The value in T{}, where leaving the field out means just that.
Json default_of(const FieldInfo& field, void* fresh) {
  const Kind kind = field.type->kind;
  if (field.ask == Ask::kRequired || kind == Kind::kObject || kind == Kind::kOptional) return {};
  return write_value(field.member(fresh), *field.type, field.unit);
}

// Whether the field must be given: also a struct that itself requires something.
// NOLINTNEXTLINE(misc-no-recursion): a struct cannot contain itself without a list or optional.
bool must_be_given(const FieldInfo& field) {
  if (field.ask == Ask::kRequired) return true;
  if (field.type->kind != Kind::kObject || field.ask == Ask::kMayLack) return false;
  const auto& inner = field.type->object->fields;
  return std::any_of(inner.begin(), inner.end(), must_be_given);
}

class Describer {
 public:
  explicit Describer(const messages::Catalogue& catalogue) : catalogue_(catalogue) {}

  // NOLINTNEXTLINE(misc-no-recursion): as deep as the tables are nested.
  Json object(const Object& object) {
    Json properties = Json::object();
    Json required = Json::array();
    const Holder fresh = object.make();
    for (const FieldInfo& field : object.fields) {
      Json described = Json::object();
      described["description"] =
          messages::render(catalogue_, base::Message{meaning_of(object, field)});
      const Json rest = value(*field.type, field.unit, field.range, field.each);
      if (const auto* members = rest.get_ptr<const Json::object_t*>()) {
        for (const auto& [key, item] : *members) described[key] = item;
      }
      Json usual = default_of(field, fresh.get());
      if (!usual.is_null()) described["default"] = std::move(usual);
      if (must_be_given(field)) required.push_back(std::string(field.key));
      properties[std::string(field.key)] = std::move(described);
    }
    Json out = Json::object();
    out["title"] = std::string(object.name);
    out["type"] = "object";
    out["properties"] = std::move(properties);
    if (!required.empty()) out["required"] = std::move(required);
    return out;
  }

  Json take_definitions() {
    Json out = Json::object();
    for (auto& [object, json] : definitions_) out[std::string(object->name)] = std::move(json);
    return out;
  }

 private:
  // NOLINTNEXTLINE(misc-no-recursion): as deep as the tables are nested.
  Json value(const Type& type, const units::Unit* unit, Range range, Range each) {
    Json out = Json::object();
    switch (type.kind) {
      case Kind::kNumber:
        out["type"] = "number";
        limit(out, "minimum", "maximum", range);
        if (unit != nullptr) out["x-unit"] = std::string(unit->ucum);
        break;
      case Kind::kInteger:
        out["type"] = "integer";
        limit(out, "minimum", "maximum", range);
        if (unit != nullptr) out["x-unit"] = std::string(unit->ucum);
        break;
      case Kind::kBoolean:
        out["type"] = "boolean";
        break;
      case Kind::kText:
        out["type"] = "string";
        limit(out, "minLength", "maxLength", range);
        break;
      case Kind::kChoice:
        out["enum"] = Json::array();
        for (std::size_t i = 0; i < type.names; ++i) {
          out["enum"].push_back(std::string(type.name(i)));
        }
        break;
      case Kind::kList:
        out["type"] = "array";
        limit(out, "minItems", "maxItems", range);
        out["items"] = value(*type.inner, unit, each, {});
        break;
      case Kind::kOptional:
        out["anyOf"] = Json::array();
        out["anyOf"].push_back(value(*type.inner, unit, range, each));
        out["anyOf"].push_back({{"type", "null"}});
        break;
      case Kind::kObject:
        define(*type.object);
        out["$ref"] = "#/$defs/" + std::string(type.object->name);
        break;
      case Kind::kCustom:
        type.schema(unit, out);
        break;
    }
    return out;
  }

  // NOLINTNEXTLINE(misc-no-recursion): each struct is entered once.
  void define(const Object& described) {
    for (const auto& [known, json] : definitions_) {
      if (known == &described) return;
      CHECK(known->name != described.name);  // two tables of one name cannot share a schema
    }
    // Entered before it is described, for a struct that contains itself.
    const std::size_t index = definitions_.size();
    definitions_.emplace_back(&described, Json());
    Json json = object(described);
    definitions_[index].second = std::move(json);
  }

  const messages::Catalogue& catalogue_;
  std::vector<std::pair<const Object*, Json>> definitions_;
};

// Lists and optionals taken off.
const Type& leaf_of(const Type& type) {
  const Type* leaf = &type;
  while (leaf->kind == Kind::kOptional || leaf->kind == Kind::kList) leaf = leaf->inner;
  return *leaf;
}

bool has_list(const Type& type) {
  return type.kind == Kind::kList || (type.kind == Kind::kOptional && has_list(*type.inner));
}

// NOLINTNEXTLINE(misc-no-recursion): a struct within itself is not entered again.
void add_help(const Object& object,
              const std::string& prefix,
              std::vector<const Object*>& within,
              std::vector<HelpLine>& out) {
  within.push_back(&object);
  const Holder fresh = object.make();
  for (const FieldInfo& field : object.fields) {
    const Type& leaf = leaf_of(*field.type);
    const std::string key = prefix + std::string(field.key) + (has_list(*field.type) ? "[]" : "");
    HelpLine line;
    line.key = key;
    if (field.unit != nullptr) line.unit = std::string(field.unit->symbol);
    const bool entries = has_list(*field.type) && leaf.kind == Kind::kNumber;
    line.range = entries ? field.each : field.range;
    if (leaf.kind == Kind::kText) line.range = {};  // a length is no value
    const Json usual = default_of(field, fresh.get());
    if (!usual.is_null()) line.default_value = dump(usual);
    line.required = must_be_given(field);
    line.asked = field.ask != Ask::kNotAsked;
    for (std::size_t i = 0; i < leaf.names; ++i) line.choices.emplace_back(leaf.name(i));
    line.meaning = meaning_of(object, field);
    out.push_back(std::move(line));
    if (leaf.kind == Kind::kObject &&
        std::find(within.begin(), within.end(), leaf.object) == within.end()) {
      add_help(*leaf.object, key + '.', within, out);
    }
  }
  within.pop_back();
}

}  // namespace

Json schema_of(const Object& object, const messages::Catalogue& catalogue) {
  Describer describer(catalogue);
  Json described = describer.object(object);
  Json out = Json::object();
  out["$schema"] = "https://json-schema.org/draft/2020-12/schema";
  for (const auto& [key, item] : *described.get_ptr<const Json::object_t*>()) out[key] = item;
  Json definitions = describer.take_definitions();
  if (!definitions.empty()) out["$defs"] = std::move(definitions);
  return out;
}

std::vector<HelpLine> help_of(const Object& object) {
  std::vector<HelpLine> out;
  std::vector<const Object*> within;
  add_help(object, "", within, out);
  return out;
}

std::vector<std::string> message_ids_of(const Object& object) {
  std::vector<std::string> out;
  for (HelpLine& line : help_of(object)) out.push_back(std::move(line.meaning));
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

}  // namespace drawoff::fields::detail
