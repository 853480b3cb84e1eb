// Reading and writing undo each other, for machines that nobody would think of.
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <functional>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

#include "fields/example_test.h"
#include "fields/read.h"
#include "fields/write.h"
#include "messages/catalogue.h"

// How RapidCheck prints a counterexample: else it tries to make a text of the JSON, which aborts.
namespace nlohmann {
// NOLINTNEXTLINE(readability-identifier-naming): the name that RapidCheck looks for.
void showValue(const ordered_json& json, std::ostream& os);
// NOLINTNEXTLINE(readability-identifier-naming)
void showValue(const ordered_json& json, std::ostream& os) { os << drawoff::fields::dump(json); }
}  // namespace nlohmann

namespace drawoff::fields {
namespace {

using example::Machine;

// Any whole number of the range, however small the case: the library would stay near the start.
rc::Gen<int> whole(int from, int to) {
  return rc::gen::resize(rc::kNominalSize, rc::gen::inRange(from, to));
}

// Numbers as people and instruments write them: up to 9 digits, up to 6 decimals.
rc::Gen<double> number(double low, double high) {
  return rc::gen::map(rc::gen::pair(whole(0, 1000000000), whole(0, 7)),
                      [low, high](std::pair<int, int> drawn) {
                        double decimals = 1;
                        for (int i = 0; i < drawn.second; ++i) decimals *= 10;
                        const double x = low + (high - low) * (drawn.first / 1e9);
                        const double typed = std::round(x * decimals) / decimals;
                        return std::min(high, std::max(low, typed));
                      });
}

rc::Gen<std::string> utf8() {
  return rc::gen::map(
      rc::gen::container<std::string>(rc::gen::oneOf(rc::gen::inRange<char>(' ', 127),
                                                     rc::gen::element('\n', '\t', '"', '\\'))),
      [](const std::string& text) { return text.substr(0, 40) + "é"; });
}

rc::Gen<Json> any_json(int depth) {
  auto leaf = rc::gen::oneOf(
      rc::gen::map(rc::gen::arbitrary<double>(), [](double x) { return json_number(x); }),
      rc::gen::map(rc::gen::arbitrary<std::int64_t>(), [](std::int64_t n) { return Json(n); }),
      rc::gen::map(utf8(), [](std::string s) { return Json(std::move(s)); }),
      rc::gen::just(Json()),
      rc::gen::just(Json(true)));
  if (depth == 0) return leaf;
  return rc::gen::oneOf(leaf,
                        rc::gen::map(rc::gen::container<std::vector<Json>>(any_json(depth - 1)),
                                     [](const std::vector<Json>& items) {
                                       Json out = Json::array();
                                       for (std::size_t i = 0; i < items.size() && i < 4; ++i)
                                         out.push_back(items[i]);
                                       return out;
                                     }),
                        rc::gen::map(rc::gen::container<std::vector<std::pair<std::string, Json>>>(
                                         rc::gen::pair(utf8(), any_json(depth - 1))),
                                     [](const std::vector<std::pair<std::string, Json>>& items) {
                                       Json out = Json::object();
                                       for (std::size_t i = 0; i < items.size() && i < 4; ++i) {
                                         out[items[i].first] = items[i].second;
                                       }
                                       return out;
                                     }));
}

Json restrictor() {
  Json out = Json::object();
  out["flow_mL_min"] = json_number(*number(1, 20000));
  out["pressure_bar"] = json_number(*number(0.5, 16));
  out["kind"] = *rc::gen::element<std::string>("capillary", "orifice", "needle");
  out["tolerance_pct"] = json_number(*number(0, 50));
  return out;
}

// A document with every key in the order of the table, and a few that nobody knows at the ends.
Json document() {
  Json out = Json::object();
  out["name"] = *utf8();
  out["temperature_C"] = json_number(*number(0, 60));
  out["restrictor"] = restrictor();
  out["elements"] = Json::array();
  const int elements = *whole(1, 5);
  for (int i = 0; i < elements; ++i) {
    Json element = Json::object();
    element["area_m2"] = json_number(*number(0.05, 40));
    if (*rc::gen::arbitrary<bool>()) element["back_pressure_kPa"] = json_number(*number(0, 400));
    element["unknown " + *utf8()] = *any_json(2);
    out["elements"].push_back(std::move(element));
  }
  out["heights_m"] = Json::array();
  const int heights = *whole(0, 4);
  for (int i = 0; i < heights; ++i) out["heights_m"].push_back(json_number(*number(-10, 50)));
  out["persons"] = *whole(0, 100000);
  out["has_pump"] = out["persons"] != 0 && *rc::gen::arbitrary<bool>();
  out["pH"] = *rc::gen::arbitrary<bool>() ? Json() : json_number(*number(0, 14));
  if (*rc::gen::arbitrary<bool>()) out["second_restrictor"] = restrictor();
  out["expected_ppm"] = {{"low", json_number(*number(0, 500))},
                         {"high", json_number(*number(0, 999))}};
  const int unknown = *whole(0, 3);
  for (int i = 0; i < unknown; ++i) out["unknown " + *utf8()] = *any_json(2);
  return out;
}

Machine must_read(const Json& json) {
  ReadContext context;
  const auto machine = read<Machine>(json, context);
  if (!machine) {
    ADD_FAILURE() << messages::render(example::catalogue(), machine.error().message) << dump(json);
    return {};
  }
  return *machine;
}

// A fixed seed: the same hundred documents on every machine; a counterexample is printed.
bool holds(const std::string& what, const std::function<void()>& property) {
  setenv("RC_PARAMS", "seed=20240229 max_success=100 max_size=40",
         0);  // NOLINT: before threads
  return rc::check(what, property);
}

TEST(Property, what_is_read_is_written_back_to_the_letter) {
  EXPECT_TRUE(holds("text -> struct -> text", [] {
    const Json json = document();
    RC_ASSERT(dump(write(must_read(json))) == dump(json));
  }));
}

TEST(Property, what_is_written_reads_as_the_same) {
  EXPECT_TRUE(holds("struct -> text -> struct", [] {
    const Machine machine = must_read(document());
    const auto json = parse_json(dump(write(machine), 2));
    RC_ASSERT(static_cast<bool>(json));
    RC_ASSERT(must_read(*json) == machine);
  }));
}

// Whatever one value is replaced by, the answer is a machine or one line.
TEST(Property, any_fault_is_one_line) {
  EXPECT_TRUE(holds("wrong value -> one line", [] {
    Json json = document();
    const std::string key = *rc::gen::element<std::string>("name",
                                                           "temperature_C",
                                                           "restrictor",
                                                           "elements",
                                                           "heights_m",
                                                           "persons",
                                                           "pH",
                                                           "second_restrictor",
                                                           "expected_ppm");
    json[key] = *any_json(3);
    ReadContext context;
    const auto machine = read<Machine>(json, context);
    std::vector<base::Message> said = context.warnings;
    if (!machine) said.push_back(machine.error().message);
    for (const base::Message& message : said) {
      const std::string line = messages::render(example::catalogue(), message);
      RC_ASSERT(line.find_first_of("\n\r\t") == std::string::npos);
      RC_ASSERT(line.size() < 600U);  // a path of 60 characters, a value of 60, the sentence
      RC_ASSERT(line.find("{meaning}") == std::string::npos);
    }
  }));
}

}  // namespace
}  // namespace drawoff::fields
