// Every number of every answer can say how it was worked out.
//
// The inputs are those of tests/golden: a new question needs a file there, or this test fails.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "api/api.h"
#include "fields/json.h"
#include "messages/catalogue.h"
#include "units/unit.h"

namespace drawoff::api {
namespace {

using fields::Json;

// DRAWOFF_REFERENCE is data/reference of the checkout.
const std::filesystem::path kRoot = std::filesystem::path(DRAWOFF_REFERENCE) / ".." / "..";

std::string text_of(const std::filesystem::path& path) {
  std::ifstream stream(path);
  EXPECT_TRUE(stream.good()) << path;
  return {std::istreambuf_iterator<char>(stream), std::istreambuf_iterator<char>()};
}

struct Golden {
  std::string file;
  std::string name;
  Json input;
};

std::vector<Golden> goldens() {
  std::vector<Golden> result;
  for (const auto& entry : std::filesystem::directory_iterator(kRoot / "tests" / "golden")) {
    if (entry.path().extension() != ".json") continue;
    const auto json = fields::parse_json(text_of(entry.path()));
    if (!json || !json->contains("name") || !json->contains("input")) {
      ADD_FAILURE() << entry.path() << " is no golden file";
      continue;
    }
    result.push_back({entry.path().filename().string(),
                      *(*json)["name"].get_ptr<const std::string*>(),
                      (*json)["input"]});
  }
  return result;
}

bool asked_for(std::string_view name) {
  for (const auto known : question_names()) {
    if (known == name) return true;
  }
  return false;
}

double number(const Json& json) {
  if (const auto* whole = json.get_ptr<const Json::number_unsigned_t*>()) {
    return static_cast<double>(*whole);
  }
  if (const auto* whole = json.get_ptr<const Json::number_integer_t*>()) {
    return static_cast<double>(*whole);
  }
  return *json.get_ptr<const Json::number_float_t*>();
}

// A number of the answer: its path, as "a[2].b" and as "a[].b" (a line may explain either), and the
// symbol of its unit: that of the nearest key which has one, or of the "unit" that stands beside
// it.
struct Number {
  std::string path;
  std::string general;
  double value = 0;
  std::string unit;
};

void walk(const Json& json, const Number& at, std::vector<Number>& into) {
  if (json.is_number()) {
    into.push_back(at);
    into.back().value = number(json);
  } else if (json.is_array()) {
    for (std::size_t i = 0; i < json.size(); ++i) {
      Number entry = at;
      entry.path += "[" + std::to_string(i) + "]";
      entry.general += "[]";
      walk(json[i], entry, into);
    }
  } else if (json.is_object()) {
    std::string beside = at.unit;
    if (const auto said = json.find("unit"); said != json.end() && said->is_string()) {
      const std::string& key = *said->get_ptr<const std::string*>();
      const auto* symbol = units::unit_of_key(key);
      // Said to be without one: not that of the object around it.
      if (symbol != nullptr || key.empty()) beside = symbol != nullptr ? symbol->symbol : "";
    }
    const std::string dot = at.path.empty() ? "" : ".";
    for (const auto& [key, value] : json.items()) {
      const auto* own = units::unit_of_key(key);
      walk(value,
           {.path = at.path + dot + key,
            .general = at.general + dot + key,
            .unit = own != nullptr ? std::string(own->symbol) : beside},
           into);
    }
  }
}

// Values go through one conversion of unit on either way: a few units in the last place.
bool equal(double a, double b) { return std::fabs(a - b) <= 1e-14 * std::fabs(b) || a == b; }

std::string string_in(const Json& line, const char* key) {
  const auto found = line.find(key);
  if (found == line.end()) return {};
  const auto* text = found->get_ptr<const std::string*>();
  return text == nullptr ? std::string() : *text;
}

Json answer_to(const Golden& golden, bool explain) {
  const auto answer = ask({.name = golden.name, .input = golden.input, .explain = explain});
  if (!answer) {
    ADD_FAILURE() << messages::render(messages::catalogue("en"), answer.error().message);
    return Json::object();
  }
  return answer->output;
}

TEST(Working, every_question_has_a_golden_input) {
  std::set<std::string> given;
  for (const auto& golden : goldens()) given.insert(golden.name);
  for (const auto name : question_names()) EXPECT_TRUE(given.contains(std::string(name))) << name;
}

// And the derivation changes nothing of the answer, and is absent unless asked for.
TEST(Working, every_number_has_its_line_when_asked_for) {
  const std::string bibliography = text_of(kRoot / "docs" / "references.bib");
  const std::regex key("[a-z]+[0-9]{4}[a-z]?");
  int lines = 0;
  for (const auto& golden : goldens()) {
    if (!asked_for(golden.name)) continue;
    SCOPED_TRACE(golden.file);
    Json output = answer_to(golden, true);
    EXPECT_TRUE(output.contains("working"));
    const Json working = output.value("working", Json::array());
    output.erase("working");
    EXPECT_EQ(output, answer_to(golden, false));
    std::vector<Number> numbers;
    walk(output, {}, numbers);
    std::set<std::string> explained;
    for (const Json& line : working) {
      ++lines;
      const std::string result = string_in(line, "result");
      SCOPED_TRACE(result);
      explained.insert(result);
      const double value = number(line["value"]);
      const std::string unit = string_in(line, "unit");
      bool known = false;
      bool same = false;
      for (const Number& n : numbers) {
        if (n.path != result && n.general != result) continue;
        known = true;
        same = same || (equal(value, n.value) && unit == n.unit);
      }
      EXPECT_TRUE(known) << "no such number in the answer";
      EXPECT_TRUE(same || !known) << value << " " << unit << " is not what the answer has";
      EXPECT_FALSE(string_in(line, "symbol").empty());
      EXPECT_FALSE(string_in(line, "formula").empty());
      const std::string source = string_in(line, "source");
      EXPECT_FALSE(source.empty());
      if (std::regex_match(source, key)) {
        EXPECT_NE(bibliography.find("{" + source + ","), std::string::npos) << source;
      }
    }
    for (const Number& n : numbers) {
      EXPECT_TRUE(explained.count(n.path) + explained.count(n.general) > 0)
          << n.path << " is not explained";
    }
  }
  EXPECT_GT(lines, 0);
}

}  // namespace
}  // namespace drawoff::api
