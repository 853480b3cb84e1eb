#include "api/api.h"

#include <gtest/gtest.h>

#include <string>

#include "base/csv.h"
#include "data/embedded.h"
#include "fields/field.h"
#include "machine/readings.h"
#include "messages/catalogue.h"
#include "visit/reading.h"

namespace drawoff::api {
namespace {

const messages::Catalogue& words() { return messages::catalogue("en"); }

// Every field of every question has its words, and so has every name that is put together at run
// time: points, causes, units of data tables.
TEST(Catalogue, holds_the_words_of_every_question) {
  for (const auto& id : message_ids()) EXPECT_NE(words().find(id), nullptr) << id;
}

TEST(Catalogue, holds_the_words_of_every_cause_and_point) {
  const auto csv = base::Csv::parse(data::file("causes.csv"));
  ASSERT_GT(csv.rows(), 10U);
  for (std::size_t i = 0; i < csv.rows(); ++i) {
    const std::string id = "cause." + csv.text(i, "cause");
    EXPECT_NE(words().find(id), nullptr) << id;
  }
  for (const auto& choice : fields::EnumTable<machine::Point>::list) {
    for (const char* kind : {"point.", "how."}) {
      const std::string id = kind + std::string(choice.name);
      EXPECT_NE(words().find(id), nullptr) << id;
    }
  }
}

TEST(Api, every_question_has_a_schema_and_help) {
  for (const auto name : question_names()) {
    const auto schema = question_schema(name);
    EXPECT_TRUE(schema.contains("input")) << name;
    EXPECT_TRUE(schema.contains("output")) << name;
    EXPECT_FALSE(question_help(name).empty()) << name;
  }
}

TEST(Api, an_unknown_question_is_wrong_use) {
  const auto answer = ask({.name = "nothing_of_the_kind", .input = fields::Json::object()});
  ASSERT_FALSE(answer);
  EXPECT_EQ(answer.error().kind, base::ErrorKind::kUsage);
}

TEST(Api, answers_a_text_with_a_text) {
  const auto tube =
      answer(R"({"name": "tube", "input": {"length_m": 10, "bore_mm": 6.35, "flow_L_h": 100}})");
  const auto json = fields::parse_json(tube);
  ASSERT_TRUE(json);
  // 10 m of 6.35 mm at 100 L/h and 20 °C: Darcy 2.26 m of water (plumbing_and_limits.md, section 4,
  // computed with Colebrook; Churchill lies within 2 % of it there).
  const double bar = json->at("friction_bar").get<double>();
  EXPECT_NEAR(bar / (2.26 * 998.2 * 9.80665 / 1e5), 1, 0.03);
}

TEST(Api, a_fault_of_the_data_comes_back_as_a_sentence) {
  const auto json = fields::parse_json(answer(R"({"name": "tube", "input": {"length_m": 10}})"));
  ASSERT_TRUE(json);
  EXPECT_EQ(json->at("kind"), "data");
  const auto sentence = json->at("error").get<std::string>();
  EXPECT_NE(sentence.find("bore_mm"), std::string::npos);
}

TEST(Api, speaks_the_pseudo_language) {
  const auto plain = fields::parse_json(answer(R"({"name": "tube", "input": {}})"));
  const auto pseudo =
      fields::parse_json(answer(R"({"name": "tube", "language": "en-XA", "input": {}})"));
  ASSERT_TRUE(plain && pseudo);
  EXPECT_NE(plain->at("error"), pseudo->at("error"));
}

TEST(Api, texts_that_are_no_request_get_a_sentence) {
  for (const char* text :
       {"", "[]", "{}", "{\"name\": 3}", "{\"job\": \"\"}", "nonsense", "null"}) {
    const auto json = fields::parse_json(answer(text));
    ASSERT_TRUE(json) << text;
    EXPECT_TRUE(json->contains("error")) << text;
  }
}

}  // namespace
}  // namespace drawoff::api
