#include "fields/form.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>

#include "fields/json.h"
#include "fields/read.h"

// A small machine of our own: required and optional values, a choice, a part, a list.
namespace drawoff::form_test {

enum class Colour { kRed, kBlue };
struct Valve {
  units::Length bore = units::millimetre(6);
  double turns = 0;
  std::string name;
};
struct Line {
  units::Pressure pressure;
  units::Temperature temperature = units::celsius(20);
  Colour colour = Colour::kRed;
  int count = 1;
  std::optional<Valve> valve;
  std::vector<Valve> more;
  double hidden = 0;
};

}  // namespace drawoff::form_test

namespace drawoff::fields {

using form_test::Colour;
using form_test::Line;
using form_test::Valve;

template <>
struct EnumTable<Colour> {
  static constexpr std::string_view name = "form_test_colour";
  static constexpr std::array list = {choice(Colour::kRed, "red"), choice(Colour::kBlue, "blue")};
};
template <>
struct Table<Valve> {
  using T = Valve;
  static constexpr std::string_view name = "form_test_valve";
  static constexpr auto list = std::make_tuple(field("bore_mm", &T::bore, Range{1, 50}),
                                               field("turns", &T::turns, Range{0, 9}, kRequired),
                                               field("name", &T::name, Range{0, 5}));
};
template <>
struct Table<Line> {
  using T = Line;
  static constexpr std::string_view name = "form_test_line";
  static constexpr auto list =
      std::make_tuple(field("pressure_bar", &T::pressure, Range{0, 10}, kRequired),
                      field("temperature_C", &T::temperature, Range{0, 60}),
                      field("colour", &T::colour),
                      field("count", &T::count, Range{1, 6}),
                      field("valve", &T::valve),
                      field("more", &T::more, Range{0, 3}),
                      field("hidden", &T::hidden, kNotAsked));
};

namespace {

const messages::Catalogue& words() {
  static const messages::Catalogue kWords(
      R"({"label.form_test_line.pressure_bar": "Pressure",
          "form.number": "no number {typed}", "form.whole": "not whole {typed}",
          "form.range": "{value} not {low} to {high}", "form.choice": "no choice",
          "form.length": "{count} of {most}", "form.unknown": "no field {path}",
          "form.missing": "needed: {label}"})",
      "en");
  return kWords;
}

Json json(std::string_view text) { return *parse_json(text); }

const FormField& field_at(const Form& form, std::string_view path) {
  static const FormField kNone;
  const auto found = std::find_if(
      form.fields.begin(), form.fields.end(), [&](const auto& f) { return f.path == path; });
  EXPECT_NE(found, form.fields.end()) << path;
  return found == form.fields.end() ? kNone : *found;
}

Filled fill_one(std::string_view body, Typed typed, UnitSystem system = UnitSystem::kMetric) {
  return fill<Line>(json(body), std::vector{std::move(typed)}, system, words());
}

TEST(Form, shows_what_is_asked_with_defaults_and_values) {
  const Form f = form<Line>(json(R"({"pressure_bar": 3.5})"), UnitSystem::kMetric, words());
  EXPECT_EQ(field_at(f, "pressure_bar").label, "Pressure");
  EXPECT_EQ(field_at(f, "pressure_bar").shown, "3.5");
  EXPECT_EQ(field_at(f, "pressure_bar").unit, "bar");
  EXPECT_TRUE(field_at(f, "pressure_bar").required);
  EXPECT_EQ(field_at(f, "temperature_C").usually, "20");
  EXPECT_EQ(field_at(f, "temperature_C").shown, "");
  EXPECT_EQ(field_at(f, "colour").choices.size(), 2U);
  EXPECT_EQ(field_at(f, "colour").usually, "red");
  EXPECT_EQ(field_at(f, "valve").kind, FormKind::kPart);
  EXPECT_EQ(field_at(f, "valve").shown, "false");
  for (const FormField& one : f.fields) EXPECT_NE(one.path, "hidden");
  EXPECT_TRUE(f.errors.empty());
}

TEST(Form, says_what_is_still_needed) {
  const Form f = form<Line>(json(R"({"valve": {}})"), UnitSystem::kMetric, words());
  ASSERT_EQ(f.errors.size(), 2U);
  EXPECT_EQ(f.errors[0].path, "pressure_bar");
  EXPECT_EQ(f.errors[0].kind, FormErrorKind::kMissing);
  EXPECT_EQ(f.errors[0].sentence, "needed: Pressure");
  EXPECT_EQ(f.errors[1].path, "valve.turns");
}

TEST(Form, takes_a_comma_and_keeps_the_unit_of_the_key) {
  EXPECT_EQ(fill_one("{}", {"pressure_bar", " 2,5 "}).body, json(R"({"pressure_bar": 2.5})"));
  // 1 psi = 0.0689475729 bar [nist2008]: 30 psi is 2.06842719 bar.
  const Filled us = fill_one("{}", {"pressure_bar", "30"}, UnitSystem::kUs);
  EXPECT_NEAR(*detail::number_in(us.body["pressure_bar"]), 2.06842719, 5e-9);
  EXPECT_EQ(field_at(form<Line>(us.body, UnitSystem::kUs, words()), "pressure_bar").shown, "30");
  // A temperature has an offset: 212 °F is 100 °C, out of range, and said in °F.
  const Filled hot = fill_one("{}", {"temperature_C", "212"}, UnitSystem::kUs);
  ASSERT_FALSE(hot.errors.empty());
  EXPECT_NE(hot.errors[0].sentence.find("212"), std::string::npos) << hot.errors[0].sentence;
  EXPECT_NE(hot.errors[0].sentence.find("140"), std::string::npos) << hot.errors[0].sentence;
}

TEST(Form, a_fault_stays_out_and_blocks_nothing_else) {
  const std::vector<Typed> typed = {{"pressure_bar", "2"},
                                    {"temperature_C", "warm"},
                                    {"count", "1.5"},
                                    {"colour", "green"},
                                    {"nothing_here", "1"}};
  const Filled f = fill<Line>(json("{}"), typed, UnitSystem::kMetric, words());
  EXPECT_EQ(f.body, json(R"({"pressure_bar": 2})"));
  ASSERT_EQ(f.errors.size(), 4U);
  EXPECT_EQ(f.errors[0].path, "temperature_C");
  EXPECT_EQ(f.errors[1].path, "count");
  EXPECT_EQ(f.errors[2].path, "colour");
  EXPECT_EQ(f.errors[3].path, "nothing_here");
  for (const FormError& e : f.errors) EXPECT_EQ(e.kind, FormErrorKind::kFault);
}

TEST(Form, adds_and_removes_parts_and_entries) {
  const Filled part = fill_one("{}", {"valve", "true"});
  EXPECT_EQ(part.body, json(R"({"valve": {}})"));
  EXPECT_EQ(fill_one(R"({"valve": {"turns": 2}})", {"valve", "true"}).body,
            json(R"({"valve": {"turns": 2}})"));
  EXPECT_EQ(fill_one(R"({"valve": {"turns": 2}})", {"valve", "false"}).body, json("{}"));
  EXPECT_EQ(fill_one("{}", {"more", "add"}).body, json(R"({"more": [{}]})"));
  EXPECT_EQ(fill_one(R"({"more": [{"turns": 1}, {"turns": 2}]})", {"more[0]", "remove"}).body,
            json(R"({"more": [{"turns": 2}]})"));
  EXPECT_EQ(fill_one(R"({"more": [{}]})", {"more[0].turns", "3"}).body,
            json(R"({"more": [{"turns": 3}]})"));
  EXPECT_EQ(fill_one(R"({"pressure_bar": 2})", {"pressure_bar", ""}).body, json("{}"));
}

// Found by fuzz_typed: a number that only the unit takes beyond what a number holds.
TEST(Form, what_overflows_in_its_unit_is_no_number) {
  const auto* bar = units::unit_of_key("pressure_bar");
  EXPECT_EQ(typed_number("1e305", units::unit_of_key("temperature_C"), UnitSystem::kMetric), 1e305);
  EXPECT_EQ(typed_number("122e304", bar, UnitSystem::kUs), std::nullopt);
  EXPECT_TRUE(typed_number("14.5", bar, UnitSystem::kUs));
}

TEST(Form, keeps_what_it_does_not_know) {
  EXPECT_EQ(fill_one(R"({"strange": [1], "pressure_bar": 1})", {"pressure_bar", "2"}).body,
            json(R"({"strange": [1], "pressure_bar": 2})"));
}

TEST(Form, shows_the_decimal_mark_that_the_language_types) {
  const messages::Catalogue spanish(R"({"label.form_test_line.pressure_bar": "Presión"})", "es");
  const Json body = json(R"({"pressure_bar": 1234.5, "valve": {"turns": 2.25, "name": "a.b"}})");
  const Form shown = form<Line>(body, UnitSystem::kMetric, spanish);
  EXPECT_EQ(field_at(shown, "pressure_bar").shown, "1234,5");
  EXPECT_EQ(field_at(shown, "valve.turns").shown, "2,25");
  EXPECT_EQ(field_at(shown, "valve.name").shown, "a.b");
  // Typed back as it stands, or with a point, it is the number that it was, in either language.
  for (const std::string text : {"2,25", "2.25"}) {
    const std::vector<Typed> typed{{"valve.turns", text}};
    EXPECT_EQ(fill<Line>(body, typed, UnitSystem::kMetric, spanish).body, body);
    EXPECT_EQ(fill<Line>(body, typed, UnitSystem::kMetric, words()).body, body);
  }
}

TEST(Form, what_is_shown_can_be_typed_again) {
  EXPECT_TRUE(rc::check([] {
    const int tenths = *rc::gen::inRange(0, 100);
    const Filled first = fill<Line>(
        Json::object(),
        std::vector{
            Typed{"pressure_bar", std::to_string(tenths / 10) + "." + std::to_string(tenths % 10)}},
        UnitSystem::kMetric,
        words());
    const auto shown =
        field_at(form<Line>(first.body, UnitSystem::kUs, words()), "pressure_bar").shown;
    const Filled again = fill<Line>(
        Json::object(), std::vector{Typed{"pressure_bar", shown}}, UnitSystem::kUs, words());
    // Six digits are shown.
    const double a = *detail::number_in(first.body["pressure_bar"]);
    const double b = *detail::number_in(again.body["pressure_bar"]);
    RC_ASSERT(std::abs(a - b) <= 1e-5 * std::abs(a) + 1e-12);
  }));
}

TEST(Form, no_path_and_no_text_breaks_it) {
  EXPECT_TRUE(rc::check([](const std::string& path, const std::string& text) {
    const Json body = json(R"({"valve": {"turns": 2}, "more": [{}]})");
    const Filled f = fill<Line>(body, std::vector{Typed{path, text}}, UnitSystem::kMetric, words());
    RC_ASSERT(f.body.is_object());
  }));
  for (const char* path :
       {"more[", "more[9].turns", "more[-1]", "valve..turns", ".", "[0]", "more[0]x"}) {
    EXPECT_FALSE(fill_one(R"({"more": [{}]})", {path, "1"}).errors.empty()) << path;
  }
}

}  // namespace
}  // namespace drawoff::fields
