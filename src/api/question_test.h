// For tests only: asking a question by its input's text.
#pragma once

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>

#include "api/question.h"
#include "fields/json.h"

namespace drawoff::api {

// The answer's output; the test fails where there is none.
inline fields::Json output_of(const Question& question, std::string_view input) {
  const auto json = fields::parse_json(input);
  if (!json) {
    ADD_FAILURE() << "the input is not JSON: " << input;
    return {};
  }
  const auto answer = question.ask(*json, false, messages::catalogue("en"));
  if (!answer) {
    ADD_FAILURE() << messages::render(messages::catalogue("en"), answer.error().message);
    return {};
  }
  return answer->output;
}

// The sentence of the error; the test fails where there is none.
inline std::string error_of(const Question& question, std::string_view input) {
  const auto json = fields::parse_json(input);
  if (!json) {
    ADD_FAILURE() << "the input is not JSON: " << input;
    return {};
  }
  const auto answer = question.ask(*json, false, messages::catalogue("en"));
  if (answer) {
    ADD_FAILURE() << "no error for " << input;
    return {};
  }
  return messages::render(messages::catalogue("en"), answer.error().message);
}

// The number under the key, NaN where there is none.
inline double number_of(const fields::Json& object, std::string_view key) {
  const auto found = object.find(key);
  if (found == object.end() || !found->is_number()) return std::numeric_limits<double>::quiet_NaN();
  if (const auto* x = found->get_ptr<const double*>()) return *x;
  return static_cast<double>(*found->get_ptr<const fields::Json::number_integer_t*>());
}

// A site of examples/; DRAWOFF_REFERENCE is data/reference of the checkout.
inline fields::Json example_site(const char* name) {
  const auto path = std::filesystem::path(DRAWOFF_REFERENCE) / ".." / ".." / "examples" /
                    (std::string(name) + ".site.json");
  std::ifstream stream(path);
  EXPECT_TRUE(stream.good()) << path;
  return *fields::parse_json(
      std::string(std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()));
}
// The body of the first entry of a kind; the test fails where there is none.
inline fields::Json& body_of(fields::Json& site_file, std::string_view kind) {
  for (fields::Json& entry : site_file["entries"]) {
    if (entry["kind"] == kind) return entry["body"];
  }
  ADD_FAILURE() << "no entry of kind " << kind;
  return site_file;
}

// One more entry of a site.
inline void add_entry(
    fields::Json& site_file, const char* kind, fields::Json body, const char* at, const char* id) {
  site_file["entries"].push_back({{"id", id},
                                  {"at", at},
                                  {"author", "R. Tamsin"},
                                  {"device", "phone-1"},
                                  {"clock", std::string(at).substr(0, 19) + ".000Z-0000-phone-1"},
                                  {"kind", kind},
                                  {"body", std::move(body)}});
}

}  // namespace drawoff::api
