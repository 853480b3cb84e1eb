// Damaged requests: whatever arrives, the answer is an answer or one sentence, never a crash. The
// sanitizers of the dev build watch. Mutations are seeded, so a failure can be run again.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

#include "api/api.h"
#include "numerics/random.h"
#include "water/lab_text.h"

namespace drawoff::api {
namespace {

std::string text_of(const std::string& path) {
  std::ifstream in(std::filesystem::path(DRAWOFF_REFERENCE) / "../.." / path);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

std::size_t somewhere(numerics::Random& random, const std::string& text) {
  return static_cast<std::size_t>(random.below(static_cast<int>(text.size()) + 1));
}

// One slip of a finger, a disk or a modem.
std::string mutated(std::string text, numerics::Random& random) {
  static constexpr std::string_view kPieces[] = {
      "null", "-1",         "1e308", "0",       "\"\"",
      "[]",   "{}",         "true",  "\\u0000", "\xC3",
      ",",    "\"",         "}",     "1e-320",  "99999999999999999999",
      "-0",   "{\"lt\":0}", "  ",    "NaN",     "\"2540\""};
  const int slips = 1 + random.below(3);
  for (int i = 0; i < slips && !text.empty(); ++i) {
    const std::size_t at = somewhere(random, text);
    switch (random.below(5)) {
      case 0:
        if (at < text.size()) text[at] = static_cast<char>(random.below(256));
        break;
      case 1:
        text.erase(at, static_cast<std::size_t>(random.below(12)));
        break;
      case 2:
        text.insert(at, kPieces[random.below(std::size(kPieces))]);
        break;
      case 3: {
        // A number becomes another.
        const std::size_t digit = text.find_first_of("0123456789", at);
        if (digit == std::string::npos) break;
        const std::size_t end = text.find_first_not_of("0123456789.eE+-", digit);
        text.replace(digit, end - digit, kPieces[random.below(5)]);
        break;
      }
      default:
        text.insert(at, text.substr(at / 2, 40));
    }
  }
  return text;
}

void expect_an_answer(const std::string& request) {
  const auto json = fields::parse_json(answer(request));
  ASSERT_TRUE(json) << request;
  ASSERT_TRUE(json->is_object()) << request;
  if (json->contains("error")) {
    const auto sentence = json->at("error").get<std::string>();
    EXPECT_FALSE(sentence.empty()) << request;
    EXPECT_EQ(sentence.find('\n'), std::string::npos) << request;
  }
}

TEST(Mutation, damaged_questions_get_a_sentence_or_an_answer) {
  const std::vector<std::string> whole = {
      R"({"name":"tube","input":{"length_m":10,"bore_mm":6.35,"flow_L_h":100,"rise_m":2}})",
      R"({"name":"water","explain":true,"input":{"temperature_C":12,"pH":7.3,
          "ions_mg_L":{"Ca":115,"Fe":{"lt":0.02},"HCO3":300,"Cl":26},"trace_ug_L":{"As5":4}}})",
      R"({"name":"rating","input":{"element":{"size":"2540","permeate_flow_L_h":110,
          "rejection_pct":97,"test_pressure_bar":7.6,"test_salt_mg_L":500}}})"};
  for (std::uint64_t i = 0; i < 1500; ++i) {
    numerics::Random random(21, i);
    expect_an_answer(mutated(whole[i % whole.size()], random));
  }
}

// Reports come from anywhere: any bytes that JSON can carry, and those of another character set.
TEST(Mutation, damaged_reports_get_a_sentence_or_an_answer) {
  const auto golden = fields::parse_json(text_of("tests/golden/report-decimal-commas.json"));
  ASSERT_TRUE(golden);
  const std::vector<std::string> whole = {
      golden->at("input").at("text").get<std::string>(),
      "Sample,pH,Ca (mg/L),Fe\nA,7.3,115.2,<0.02\nB,7,80,\"1,234\"\n",
      R"([{"Characteristic Name":"Calcium","Result Value":115,"Result Unit":"mg/L"}])",
      "pH: 7.3\nCalcium 115.2 mg/L\nNitrate (as NO3) 5 - 10 mg/L\n"};
  for (std::uint64_t i = 0; i < 2000; ++i) {
    numerics::Random random(23, i);
    const std::string text = water::utf8_text(mutated(whole[i % whole.size()], random));
    expect_an_answer(fields::dump(
        fields::Json{{"name", "report"}, {"explain", true}, {"input", {{"text", text}}}}));
  }
}

TEST(Mutation, damaged_site_files_get_a_sentence_or_an_answer) {
  const std::string site = text_of("examples/office.site.json");
  ASSERT_FALSE(site.empty());
  for (std::uint64_t i = 0; i < 60; ++i) {
    numerics::Random random(22, i);
    expect_an_answer(fields::dump(fields::Json{{"job", mutated(site, random)}}));
  }
}

}  // namespace
}  // namespace drawoff::api
