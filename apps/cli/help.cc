#include "help.h"

#include <cmath>

#include "api/api.h"
#include "fields/errors.h"

namespace drawoff::cli {

namespace {

using base::Argument;
using base::Message;

constexpr std::size_t kIndent = 2;

std::string heading(const char* id, const Console& console) {
  return '\n' + console.layout().bold(console.say(id)) + '\n';
}

base::Number in_unit(double value, const std::string& unit) {
  base::Number number = fields::given_number(value, nullptr);
  number.unit = unit;
  return number;
}

std::string range_of(const fields::HelpLine& line, const Console& console) {
  const bool low = std::isfinite(line.range.low);
  const bool high = std::isfinite(line.range.high);
  if (!line.choices.empty()) {
    std::string out;
    for (const std::string& choice : line.choices) out += (out.empty() ? "" : " | ") + choice;
    return out;
  }
  if (!low && !high) return line.unit;
  return console.say(Message{"cli.range",
                             {{"range",
                               low && high ? "between"
                               : low       ? "at_least"
                                           : "at_most"},
                              {"low", in_unit(low ? line.range.low : 0, high ? "" : line.unit)},
                              {"high", in_unit(high ? line.range.high : 0, line.unit)}}});
}

}  // namespace

std::string help_text(const HelpPage& page, const Console& console) {
  const Layout& layout = console.layout();
  std::string out = layout.wrap(console.say(Message{page.about}));
  out += heading("cli.heading.usage", console);
  for (const std::string& usage : page.usage) {
    out += layout.wrap(usage, {.first = kIndent, .rest = 3 * kIndent});
  }
  if (!page.commands.empty()) {
    out += heading("cli.heading.commands", console);
    std::vector<std::vector<std::string>> rows;
    for (const auto& [name, id] : page.commands) rows.push_back({name, console.say(Message{id})});
    out += layout.rows(rows, kIndent);
  }
  if (!page.options.empty()) {
    out += heading("cli.heading.options", console);
    std::vector<std::vector<std::string>> rows;
    for (const auto& [name, text] : page.options) rows.push_back({name, text});
    out += layout.rows(rows, kIndent);
  }
  if (!page.notes.empty()) out += '\n' + layout.wrap(console.say(Message{page.notes}));
  return out;
}

std::string fields_text(const std::string& question, const Console& console) {
  const Layout& layout = console.layout();
  std::string out = heading("cli.heading.fields", console);
  for (const fields::HelpLine& line : api::question_help(question)) {
    std::string first = layout.bold(line.key);
    const std::string range = range_of(line, console);
    if (!range.empty()) first += "  " + range;
    if (line.required) {
      first += "  " + console.say("cli.field.required");
    } else if (!line.default_value.empty()) {
      first += "  " + console.say(Message{"cli.field.default", {{"value", line.default_value}}});
    }
    // Not wrapped by its bold marks, which have no width.
    if (width_of(first) <= layout.width || layout.colour) {
      out += std::string(kIndent, ' ') + first + '\n';
    } else {
      out += layout.wrap(first, {.first = kIndent, .rest = 2 * kIndent});
    }
    const std::string meaning = console.say(Message{line.meaning});
    out += layout.wrap(meaning, {.first = 3 * kIndent, .rest = 3 * kIndent});
  }
  return out;
}

}  // namespace drawoff::cli
