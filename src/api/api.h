// The only door into the engine: a question by name, JSON in, JSON out.
//
// Command, phone and server are thin skins over these functions, so that all three give the same
// answer. Inputs and outputs are described structs (fields/field.h); their schemas, help and error
// sentences come from the same tables.
//
//   TRY(Answer answer, ask({.name = "tube", .input = json, .explain = true}));
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "fields/json.h"
#include "fields/schema.h"

namespace drawoff::api {

inline constexpr std::string_view kEngineVersion = "0.1.0";

struct Request {
  std::string name;
  fields::Json input;
  bool explain = false;         // adds "working": how each number was worked out
  std::string language = "en";  // of the sentences in the answer
};

struct Answer {
  fields::Json output;
  std::vector<base::Message> warnings;  // unknown fields, by path
};

base::Result<Answer> ask(const Request& request);

// What can be asked, in the order of the work: the name and, under "question.<name>" in the
// catalogue, the question in a line.
std::span<const std::string_view> question_names();
// What the app asks besides, to draw its screens: words, forms, the state of a site. Their numbers
// are places on a screen or come from the questions, so they have no working of their own.
std::span<const std::string_view> screen_names();
// {"input": schema, "output": schema}; the name must be one of them.
fields::Json question_schema(std::string_view name);
std::vector<fields::HelpLine> question_help(std::string_view name);
// Every id of the catalogue that the fields of all questions need, for its test.
std::vector<std::string> message_ids();

// The job as it is read on one screen, line by line. Rows of a table share a kind and are set in
// columns by whoever prints them.
struct JobLine {
  enum class Kind { kTitle, kHeading, kText, kCaution, kRow };
  Kind kind = Kind::kText;
  std::vector<base::Message> cells;  // one, or the columns of a row
};

// A site file's text -> the whole job: verdict, how it should run, readings judged, what to check
// first. Once for programs, with "working" if asked, and once in words.
struct Job {
  fields::Json output;
  std::vector<JobLine> lines;
  std::vector<base::Message> warnings;
};
base::Result<Job> job(std::string_view site_file, bool explain = false);

// The steps of a start-up of the site's machine, as a list to go through.
struct ChecklistOptions {
  bool sanitise = false;
  bool membrane_in = false;
};
base::Result<Job> checklist(std::string_view site_file,
                            const ChecklistOptions& options,
                            const messages::Catalogue& words);

// For the phone's worker: one JSON text in, one out.
//   {"name": "tube", "input": {…}, "explain": false}      or     {"job": "<site file text>"}
//   {"schemas": true}: of all questions and screens, by name, for who makes types of them
//   {"catalogue": "<its text>", "language": "es"}: takes in the words of a language that the module
//   does not hold, for every request from then on; out: {"learned": true}
// Out: the output itself, or {"error": "<sentence>", "kind": "data"}. Language: "language", or
// "en".
std::string answer(std::string_view request);

}  // namespace drawoff::api
