#include "fields/form.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <utility>

#include "fields/errors.h"
#include "fields/quote.h"
#include "fields/read.h"
#include "fields/write.h"
#include "messages/number.h"

namespace drawoff::fields {

namespace {

using base::Message;
using base::Number;
using detail::FieldInfo;
using detail::Kind;
using detail::Object;
using detail::Type;

// Enough to give a typed number back after a change of unit, too few to show its rounding.
constexpr int kShownDigits = 6;

// ---- Paths -----------------------------------------------------------------------------------

// "filters[1].kind" is {"filters", 1, "kind"}: a step is a key, or an index if its key is empty.
struct Step {
  std::string key;
  std::size_t index = 0;
};

std::vector<Step> steps_of(std::string_view path) {
  std::vector<Step> steps;
  std::size_t at = 0;
  while (at < path.size()) {
    if (path[at] == '[') {
      const std::size_t end = path.find(']', at);
      if (end == std::string_view::npos) return {};
      Step step;
      const auto [last, fault] =
          std::from_chars(path.data() + at + 1, path.data() + end, step.index);
      if (fault != std::errc() || last != path.data() + end) return {};
      steps.push_back(step);
      at = end + 1;
    } else {
      if (path[at] == '.') ++at;
      const std::size_t end = std::min(path.find_first_of(".[", at), path.size());
      if (end == at) return {};
      steps.push_back({std::string(path.substr(at, end - at))});
      at = end;
    }
  }
  return steps;
}

const Json* member(const Json& json, const Step& step) {
  if (step.key.empty()) {
    const auto* array = json.get_ptr<const Json::array_t*>();
    return array != nullptr && step.index < array->size() ? &(*array)[step.index] : nullptr;
  }
  if (!json.is_object()) return nullptr;
  const auto found = json.find(step.key);
  return found == json.end() || found->is_null() ? nullptr : &*found;
}

Json* member(Json& json, const Step& step) {
  return const_cast<Json*>(member(std::as_const(json), step));
}

// Makes what is missing on the way, except entries of lists; null where the way is barred.
Json* made(Json& root, std::span<const Step> steps) {
  Json* at = &root;
  for (const Step& step : steps) {
    if (Json* next = member(*at, step)) {
      at = next;
      continue;
    }
    if (step.key.empty() || !(at->is_object() || at->is_null())) return nullptr;
    at = &(*at)[step.key];
  }
  return at;
}

void take_away(Json& root, std::span<const Step> steps) {
  Json* parent = &root;
  for (const Step& step : steps.first(steps.size() - 1)) {
    parent = member(*parent, step);
    if (parent == nullptr) return;
  }
  const Step& last = steps.back();
  if (last.key.empty()) {
    auto* array = parent->get_ptr<Json::array_t*>();
    if (array != nullptr && last.index < array->size()) {
      array->erase(array->begin() + static_cast<std::ptrdiff_t>(last.index));
    }
  } else if (parent->is_object()) {
    parent->erase(last.key);
  }
}

// ---- The walk --------------------------------------------------------------------------------

// A field of the form with what is needed to take its answer.
struct Asked {
  FormField field;
  const Type* type = nullptr;  // lists and optionals taken off
  const units::Unit* unit = nullptr;
  Range range;
  std::string meaning;  // message id
  bool present = false;
};

class Walk {
 public:
  Walk(UnitSystem system, const messages::Catalogue& words) : system_(system), words_(words) {}

  std::vector<Asked> take() { return std::move(asked_); }

  // `usual` is the struct as it is where nothing is typed: within another, as its owner makes it.
  // NOLINTNEXTLINE(misc-no-recursion): as deep as the tables are nested.
  void object(const Object& object,
              void* usual,
              const Json* body,
              const Path& path,
              const std::string& group,
              const std::string& part) {
    for (const FieldInfo& f : object.fields) {
      if (f.ask == Ask::kNotAsked) continue;
      const Json* value = body != nullptr ? member(*body, {std::string(f.key)}) : nullptr;
      const Path at = path / f.key;
      const bool optional = f.type->kind == Kind::kOptional;
      const Type& inner = optional ? *f.type->inner : *f.type;
      const std::string name = std::string(object.name) + '.' + std::string(f.key);
      Asked asked{.field = {.path = at.text(),
                            .label = messages::render(words_, {"label." + name}),
                            .group = group,
                            .part = part,
                            .required = f.ask == Ask::kRequired},
                  .type = &inner,
                  .unit = f.unit,
                  .range = f.range,
                  .meaning = "field." + name,
                  .present = value != nullptr};
      if (inner.kind == Kind::kObject) {
        std::string inside = part;
        const detail::Holder fresh = inner.object->make();
        if (optional) {
          asked.field.kind = FormKind::kPart;
          asked.field.shown = value != nullptr ? "true" : "false";
          inside = at.text();
          asked_.push_back(asked);
          if (value == nullptr) continue;
        }
        void* within = optional ? fresh.get() : f.member(usual);
        this->object(*inner.object, within, value, at, asked.field.label, inside);
      } else if (inner.kind == Kind::kList) {
        list(*inner.inner, value, at, std::move(asked));
      } else if (inner.kind == Kind::kCustom) {
        constituents(inner, value, at, asked);
      } else {
        if (!asked.field.required && !optional) {
          const Json standing = detail::write_value(f.member(usual), *f.type, f.unit);
          asked.field.usually =
              inner.kind == Kind::kChoice ? std::string() : shown(standing, f.unit);
          if (value == nullptr && inner.kind == Kind::kChoice) asked.field.usually = text(standing);
        }
        leaf(inner, value, std::move(asked));
      }
    }
  }

 private:
  static std::string text(const Json& json) {
    const auto* found = json.get_ptr<const std::string*>();
    return found == nullptr ? std::string() : *found;
  }

  // As a person would type it.
  std::string shown(const Json& json, const units::Unit* unit) const {
    if (const auto* found = json.get_ptr<const std::string*>()) return *found;
    if (const auto* flag = json.get_ptr<const bool*>()) return *flag ? "true" : "false";
    if (json.is_number()) {
      return shown_number(*detail::number_in(json), unit, system_, words_.language());
    }
    if (const Json* below = json.is_object() ? member(json, {"lt"}) : nullptr) {
      return "< " + shown(*below, unit);
    }
    return {};
  }

  std::string unit_word(const units::Unit& unit) const {
    return messages::unit_in(unit.symbol, words_.language());
  }

  void leaf(const Type& type, const Json* value, Asked asked) {
    FormField& f = asked.field;
    if (value != nullptr) f.shown = shown(*value, asked.unit);
    if (const auto* unit = shown_unit(asked.unit, system_)) f.unit = unit_word(*unit);
    switch (type.kind) {
      case Kind::kText:
        f.kind = FormKind::kText;
        break;
      case Kind::kBoolean:
        f.kind = FormKind::kFlag;
        break;
      case Kind::kChoice:
        f.kind = FormKind::kChoice;
        for (std::size_t i = 0; i < type.names; ++i) {
          const std::string name(type.name(i));
          f.choices.push_back(
              {name,
               messages::render(words_, {"choice." + std::string(type.choices) + '.' + name})});
        }
        break;
      default:
        f.kind = FormKind::kNumber;
    }
    asked_.push_back(std::move(asked));
  }

  // NOLINTNEXTLINE(misc-no-recursion): as deep as the tables are nested.
  void list(const Type& entry, const Json* value, const Path& at, Asked asked) {
    if (entry.kind != Kind::kObject) return;  // lists of plain values are not for forms
    const auto* array = value != nullptr ? value->get_ptr<const Json::array_t*>() : nullptr;
    const std::size_t count = array != nullptr ? array->size() : 0;
    asked.field.kind = FormKind::kList;
    asked.field.shown = std::to_string(count);
    const std::string label = asked.field.label;
    asked_.push_back(asked);
    for (std::size_t i = 0; i < count; ++i) {
      Asked one = asked;
      one.field.path = at[i].text();
      one.field.kind = FormKind::kEntry;
      one.field.shown.clear();
      one.field.part = one.field.path;
      asked_.push_back(one);
      const detail::Holder fresh = entry.object->make();
      object(*entry.object, fresh.get(), &(*array)[i], at[i], label, one.field.path);
    }
  }

  // A table of amounts by name, each a number or below one: its keys come from its own schema.
  void constituents(const Type& type, const Json* value, const Path& at, const Asked& table) {
    Json schema;
    type.schema(table.unit, schema);
    const Json* keys = member(schema, {"properties"});
    if (keys == nullptr) return;
    for (const auto& [key, ignored] : keys->items()) {
      const Json* amount = value != nullptr ? member(*value, {key}) : nullptr;
      Asked one = table;
      one.field.path = (at / key).text();
      one.field.kind = FormKind::kBound;
      one.field.label = key;
      one.field.group = table.field.label;
      one.field.required = false;
      one.present = amount != nullptr;
      one.type = nullptr;
      if (const auto* unit = shown_unit(table.unit, system_)) one.field.unit = unit_word(*unit);
      if (amount != nullptr) one.field.shown = shown(*amount, table.unit);
      one.range = at_least(0);
      asked_.push_back(std::move(one));
    }
  }

  UnitSystem system_;
  const messages::Catalogue& words_;
  std::vector<Asked> asked_;
};

std::vector<Asked> asked_of(const Object& object,
                            const Json& body,
                            UnitSystem system,
                            const messages::Catalogue& words) {
  Walk walk(system, words);
  const detail::Holder fresh = object.make();
  walk.object(object, fresh.get(), &body, {}, "", "");
  return walk.take();
}

// ---- What is wrong ---------------------------------------------------------------------------

// A person is told the labels of fields, not their paths in a file; amid a sentence they are set
// off from its words.
Message with_labels(Message message, const std::vector<Asked>& asked) {
  for (auto& [key, argument] : message.arguments) {
    const auto* where = std::get_if<base::Where>(&argument);
    if (where == nullptr) continue;
    const auto found = std::find_if(
        asked.begin(), asked.end(), [&](const Asked& a) { return a.field.path == where->path; });
    if (found == asked.end()) continue;
    const std::string& label = found->field.label;
    argument = key == "path" ? label : "“" + label + "”";
  }
  return message;
}

// Where the fault is; empty if that is the whole.
std::string path_of(const Message& message) {
  for (const auto& [key, argument] : message.arguments) {
    const auto* where = std::get_if<base::Where>(&argument);
    if (key == "path" && where != nullptr) return where->path;
  }
  return {};
}

// What is still needed; and, when nothing is, what contradicts itself.
std::vector<FormError> faults_of(const Object& object,
                                 const Json& body,
                                 const std::vector<Asked>& asked,
                                 const messages::Catalogue& words) {
  std::vector<FormError> errors;
  for (const Asked& a : asked) {
    if (a.field.required && !a.present && a.type != nullptr) {
      errors.push_back({a.field.path,
                        FormErrorKind::kMissing,
                        messages::render(words, {"form.missing", {{"label", a.field.label}}})});
    }
  }
  if (!errors.empty()) return errors;
  ReadContext context;
  const detail::Holder whole = object.make();
  if (auto error = detail::read_object(whole.get(), object, body, {}, context)) {
    const auto labelled = with_labels(error->message, asked);
    errors.push_back(
        {path_of(error->message), FormErrorKind::kFault, messages::render(words, labelled)});
  }
  return errors;
}

// A typed text as JSON, or the message that says why it cannot be.
struct Taken {
  std::optional<Json> value;
  Message fault;
};

Message not_in_range(double typed, Range range, const units::Unit* unit, UnitSystem system) {
  const auto* shown = shown_unit(unit, system);
  const auto number = [&](double value) {
    const double there =
        unit == nullptr ? value : units::from_si(*shown, units::to_si(*unit, value));
    const double r = messages::rounded(there, 4);
    return Number{r, shown != nullptr ? std::string(shown->symbol) : "", messages::digits_of(r)};
  };
  const bool low = std::isfinite(range.low);
  const bool high = std::isfinite(range.high);
  Number value = number(typed);
  return {"form.range",
          {{"value", value},
           {"range",
            std::string(low && high ? "between"
                        : low       ? "at_least"
                                    : "at_most")},
           {"low", number(low ? range.low : 0)},
           {"high", number(high ? range.high : 0)}}};
}

Taken take_number(std::string_view text, const Asked& asked, UnitSystem system) {
  const auto value = typed_number(text, asked.unit, system);
  if (!value) return {.fault = {"form.number", {{"typed", quote_text(text)}}}};
  if (*value < asked.range.low || *value > asked.range.high) {
    return {.fault = not_in_range(*value, asked.range, asked.unit, system)};
  }
  if (asked.type != nullptr && asked.type->kind == Kind::kInteger && *value != std::floor(*value)) {
    return {.fault = {"form.whole", {{"typed", quote_text(text)}}}};
  }
  return {.value = json_number(*value)};
}

Taken take(std::string_view text, const Asked& asked, UnitSystem system) {
  switch (asked.field.kind) {
    case FormKind::kNumber:
      return take_number(text, asked, system);
    case FormKind::kBound: {
      if (text.substr(0, 1) != "<") return take_number(text, asked, system);
      Taken below = take_number(text.substr(1), asked, system);
      if (below.value && *detail::number_in(*below.value) <= 0) {
        return {.fault = {"form.below_nothing"}};
      }
      if (below.value) below.value = Json{{"lt", *below.value}};
      return below;
    }
    case FormKind::kChoice:
      for (const FormChoice& choice : asked.field.choices) {
        if (choice.value == text) return {.value = Json(std::string(text))};
      }
      return {.fault = {"form.choice", {{"typed", quote_text(text)}}}};
    case FormKind::kFlag:
      if (text != "true" && text != "false") {
        return {.fault = {"form.choice", {{"typed", quote_text(text)}}}};
      }
      return {.value = Json(text == "true")};
    default: {
      const auto count = static_cast<double>(utf8_count(text));
      if (asked.range.low <= count && count <= asked.range.high) {
        return {.value = Json(std::string(text))};
      }
      return {.fault = {"form.length",
                        {{"count", given_number(count, nullptr)},
                         {"most", given_number(asked.range.high, nullptr)}}}};
    }
  }
}

std::string_view trimmed(std::string_view text) {
  constexpr std::string_view kSpace = " \t\r\n";
  const auto first = text.find_first_not_of(kSpace);
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(kSpace) - first + 1);
}

// Takes one typed text into the body; the message if it cannot be.
std::optional<Message> take_in(const Object& object,
                               Json& body,
                               const Typed& typed,
                               UnitSystem system,
                               const messages::Catalogue& words) {
  const auto asked = asked_of(object, body, system, words);
  const auto found = std::find_if(
      asked.begin(), asked.end(), [&](const Asked& a) { return a.field.path == typed.path; });
  const auto steps = steps_of(typed.path);
  if (found == asked.end() || steps.empty()) {
    return Message{"form.unknown", {{"path", quote_text(typed.path)}}};
  }
  const std::string_view text = trimmed(typed.text);
  switch (found->field.kind) {
    case FormKind::kPart:
      if (text != "true" && text != "false") {
        return Message{"form.choice", {{"typed", quote_text(text)}}};
      }
      if (text == "false") {
        take_away(body, steps);
      } else if (Json* part = made(body, steps); part != nullptr && part->is_null()) {
        *part = Json::object();
      }
      return std::nullopt;
    case FormKind::kList:
      if (Json* list = made(body, steps); list != nullptr && text == "add") {
        if (!list->is_array()) *list = Json::array();
        list->push_back(Json::object());
      }
      return std::nullopt;
    case FormKind::kEntry:
      if (text == "remove") take_away(body, steps);
      return std::nullopt;
    default:
      break;
  }
  if (text.empty()) {
    take_away(body, steps);
    return std::nullopt;
  }
  Taken taken = take(text, *found, system);
  if (!taken.value) return std::move(taken.fault);
  Json* at = made(body, steps);
  if (at == nullptr) return Message{"form.unknown", {{"path", quote_text(typed.path)}}};
  *at = std::move(*taken.value);
  return std::nullopt;
}

}  // namespace

const units::Unit* shown_unit(const units::Unit* unit, UnitSystem system) {
  if (unit == nullptr || system == UnitSystem::kMetric) return unit;
  constexpr std::pair<std::string_view, std::string_view> kCustomary[] = {{"L_h", "gpd"},
                                                                          {"L_min", "US_gal_min"},
                                                                          {"L_d", "gpd"},
                                                                          {"bar", "psi"},
                                                                          {"m", "ft"},
                                                                          {"mm", "in"},
                                                                          {"C", "F"}};
  for (const auto& [metric, customary] : kCustomary) {
    if (unit->key == metric) return units::unit_of_key(customary);
  }
  return unit;
}

std::string shown_number(double value,
                         const units::Unit* unit,
                         UnitSystem system,
                         std::string_view language) {
  const units::Unit* shown = shown_unit(unit, system);
  const double number =
      shown == unit
          ? value
          : messages::rounded(units::from_si(*shown, units::to_si(*unit, value)), kShownDigits);
  return messages::with_decimal_mark(dump(json_number(number)), language);
}

std::optional<double> typed_number(std::string_view text,
                                   const units::Unit* unit,
                                   UnitSystem system) {
  const auto number = units::parse_number(text);
  const units::Unit* shown = shown_unit(unit, system);
  if (!number || shown == unit) return number;
  const double kept = messages::rounded(units::from_si(*unit, units::to_si(*shown, *number)), 12);
  // 1e308 of a larger unit is beyond what a number can hold.
  return std::isfinite(kept) ? std::optional(kept) : std::nullopt;
}

namespace detail {

Form form_of(const Object& object,
             const Json& body,
             UnitSystem system,
             const messages::Catalogue& words) {
  Form out;
  auto asked = asked_of(object, body, system, words);
  out.errors = faults_of(object, body, asked, words);
  for (Asked& a : asked) out.fields.push_back(std::move(a.field));
  return out;
}

Filled fill_of(const Object& object,
               const Json& body,
               std::span<const Typed> typed,
               UnitSystem system,
               const messages::Catalogue& words) {
  Filled out{.body = body};
  if (!out.body.is_object()) out.body = Json::object();
  for (const Typed& one : typed) {
    if (const auto fault = take_in(object, out.body, one, system, words)) {
      out.errors.push_back({one.path, FormErrorKind::kFault, messages::render(words, *fault)});
    }
  }
  const auto asked = asked_of(object, out.body, system, words);
  for (FormError& error : faults_of(object, out.body, asked, words)) {
    // What was typed and is wrong has said so already.
    const bool said = std::any_of(out.errors.begin(), out.errors.end(), [&](const FormError& e) {
      return e.path == error.path;
    });
    if (!said) out.errors.push_back(std::move(error));
  }
  return out;
}

}  // namespace detail

}  // namespace drawoff::fields
