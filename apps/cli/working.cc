#include "working.h"

namespace drawoff::cli {

namespace {

using base::Message;
using fields::Json;

constexpr int kDigits = 4;  // significant; all of them are in the JSON

std::string text_in(const Json& object, const char* key) {
  if (!object.is_object()) return {};
  const auto found = object.find(key);
  const auto* text = found != object.end() ? found->get_ptr<const std::string*>() : nullptr;
  return text != nullptr ? *text : "";
}

// "14.02 L/h", or "–" for what could not be given.
std::string value_in(const Json& object, const Console& console) {
  const auto found = object.is_object() ? object.find("value") : object.end();
  if (!object.is_object() || found == object.end()) return console.say("cli.working.none");
  double value = 0;
  if (const auto* f = found->get_ptr<const Json::number_float_t*>()) {
    value = *f;
  } else if (const auto* u = found->get_ptr<const Json::number_unsigned_t*>()) {
    value = static_cast<double>(*u);
  } else if (const auto* i = found->get_ptr<const Json::number_integer_t*>()) {
    value = static_cast<double>(*i);
  } else {
    return console.say("cli.working.none");
  }
  return console.say(Message{"cli.working.number",
                             {{"value", base::Number{value, text_in(object, "unit"), kDigits}}}});
}

std::string inputs_in(const Json& line, const Console& console) {
  const auto found = line.is_object() ? line.find("inputs") : line.end();
  const auto* inputs =
      line.is_object() && found != line.end() ? found->get_ptr<const Json::array_t*>() : nullptr;
  std::string out;
  if (inputs == nullptr) return out;
  for (const Json& input : *inputs) {
    if (!out.empty()) out += ", ";
    out += text_in(input, "symbol") + " = " + value_in(input, console);
  }
  return out;
}

}  // namespace

std::string working_text(const Json& output, const Console& console) {
  const auto found = output.is_object() ? output.find("working") : output.end();
  const auto* lines = output.is_object() && found != output.end()
                          ? found->get_ptr<const Json::array_t*>()
                          : nullptr;
  if (lines == nullptr) return {};
  const Layout& layout = console.layout();
  std::string out = '\n' + layout.bold(console.say("cli.heading.working")) + '\n';
  for (const Json& line : *lines) {
    const std::string symbol = text_in(line, "symbol");
    std::string result = text_in(line, "result") + ": " + (symbol.empty() ? "" : symbol + " = ");
    out += layout.wrap(result + value_in(line, console), {.first = 2, .rest = 4});
    const std::string inputs = inputs_in(line, console);
    const Message how{"cli.working.how",
                      {{"formula", text_in(line, "formula")},
                       {"inputs", inputs},
                       {"any", inputs.empty() ? "none" : "some"},
                       {"source", text_in(line, "source")}}};
    out += layout.wrap(console.say(how), {.first = 6, .rest = 6});
  }
  return out;
}

}  // namespace drawoff::cli
