#include "calc.h"

#include <algorithm>

#include "api/api.h"
#include "fields/errors.h"
#include "fields/quote.h"
#include "water/lab_text.h"

namespace drawoff::cli {

namespace {

using base::Message;
using fields::Json;

// A report may come as it is, without an object around it.
base::Result<Json> input_of(const CalcWords& asked, std::string_view text) {
  if (asked.name != "report") return fields::parse_json(text);
  auto json = fields::parse_json(text);
  if (json && json->is_object() && json->contains("text")) return json;
  return Json{{"text", water::utf8_text(text)}};
}

base::Result<api::Answer> ask(const CalcWords& asked, std::string_view text) {
  TRY(Json input, input_of(asked, text));
  return api::ask({.name = asked.name, .input = std::move(input), .explain = asked.explain});
}

Exit one(const CalcWords& asked, Console& console) {
  const Console::Input input = console.read(asked.in);
  if (input.failed) return *input.failed;
  const auto answer = ask(asked, input.text);
  if (!answer) return console.refuse(answer.error());
  console.write(fields::dump(answer->output, 2) + '\n');
  console.complain(answer->warnings);
  return Exit::kDone;
}

// An answer a line, in order and at once: who sends one line may wait for its answer.
Exit many(const CalcWords& asked, Console& console) {
  Console::Lines lines(console, asked.in);
  if (lines.failed()) return *lines.failed();
  Exit status = Exit::kDone;
  for (std::int64_t line = 1;; ++line) {
    const auto text = lines.next();
    if (!text) break;
    const auto answer = ask(asked, *text);
    Json out;
    if (answer) {
      out = answer->output;
      for (const Message& warning : answer->warnings) {
        console.complain(
            Message{"cli.line",
                    {{"line", fields::given_number(static_cast<double>(line), nullptr)},
                     {"text", console.say(warning)}}});
      }
    } else {
      out = Json{{"error", console.say(answer.error().message)}, {"line", line}};
      status = Exit::kData;
    }
    if (!console.write(fields::dump(out) + '\n')) break;
  }
  return status;
}

// A line each whatever the width, for programs too.
Exit list(Console& console) {
  std::size_t widest = 0;
  for (const std::string_view name : api::question_names()) widest = std::max(widest, name.size());
  std::string out;
  for (const std::string_view name : api::question_names()) {
    std::string line(name);
    line.resize(widest + 2, ' ');
    out += line + console.say(Message{"question." + std::string(name)}) + '\n';
  }
  console.write(out);
  return Exit::kDone;
}

}  // namespace

bool is_question(const std::string& name, const Console& console) {
  const auto names = api::question_names();
  if (std::find(names.begin(), names.end(), name) != names.end()) return true;
  const std::string similar = fields::nearest(name, names);
  console.complain(Message{
      "cli.usage.question",
      {{"name", fields::quote_text(name)}, {"similar", similar.empty() ? "none" : similar}}});
  return false;
}

Exit run_calc(const CalcWords& asked, Console& console) {
  if (asked.list) return list(console);
  if (!is_question(asked.name, console)) return Exit::kUsage;
  if (asked.schema) {
    console.write(fields::dump(api::question_schema(asked.name), 2) + '\n');
    return Exit::kDone;
  }
  return asked.ndjson ? many(asked, console) : one(asked, console);
}

}  // namespace drawoff::cli
