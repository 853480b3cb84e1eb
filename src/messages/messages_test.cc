#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <set>
#include <string>

#include "data/embedded.h"
#include "messages/catalogue.h"
#include "messages/number.h"
#include "messages/pattern.h"

namespace drawoff::messages {
namespace {

using base::Number;
using base::Ref;

const Catalogue& words() {
  static const Catalogue kWords(
      R"({
        "filters": "{n, plural, =0 {no filter} one {# filter} other {# filters}} at {site}",
        "flow": "{part} lets {flow} pass",
        "kind": "{side, select, feed {before} product {after} other {beside}} the pump",
        "part.restrictor": "the restrictor",
        "circle": "{again}",
        "broken": "a { b"
      })",
      "en");
  return kWords;
}

TEST(Render, fills_text_numbers_and_entries) {
  EXPECT_EQ(render(words(),
                   {"flow", {{"part", Ref{"part.restrictor"}}, {"flow", Number{1.2, "L/h", 2}}}}),
            "the restrictor lets 1.2\u00A0L/h pass");
}

TEST(Render, chooses_the_plural_form) {
  const auto with = [](double n) {
    return render(words(), {"filters", {{"n", Number{n, "", 4}}, {"site", "{odd} name"}}});
  };
  EXPECT_EQ(with(0), "no filter at {odd} name");
  EXPECT_EQ(render(words(), {"filters", {{"n", Number{1, "", 1}}, {"site", "A"}}}),
            "1 filter at A");
  EXPECT_EQ(with(2000), "2,000 filters at {odd} name");
}

TEST(Render, chooses_by_text) {
  EXPECT_EQ(render(words(), {"kind", {{"side", "feed"}}}), "before the pump");
  EXPECT_EQ(render(words(), {"kind", {{"side", "roof"}}}), "beside the pump");
  EXPECT_EQ(render(words(), {"kind", {}}), "beside the pump");
}

TEST(Render, shows_what_is_missing_and_never_hangs) {
  EXPECT_EQ(render(words(), {"no.such.id"}), "no.such.id");
  EXPECT_EQ(render(words(), {"flow", {{"part", Ref{"no.part"}}}}), "no.part lets {flow} pass");
  EXPECT_EQ(render(words(), {"broken"}), "a { b");
  EXPECT_EQ(render(words(), {"circle", {{"again", Ref{"circle"}}}}), "{again}");
}

TEST(Pattern, faults_are_named) {
  EXPECT_EQ(fault_of("plain {a} and {b, plural, one {#} other {# {c}}}"), "");
  for (std::string_view bad : {"{",
                               "}",
                               "{}",
                               "{a",
                               "{a, plural}",
                               "{a, plural, one {x}}",
                               "{a, date, other {x}}",
                               "{a, select, other}",
                               "{a{b}}"}) {
    EXPECT_NE(fault_of(bad), "") << bad;
  }
  EXPECT_EQ(arguments_of("{a} {b, select, x {{c}} other {{a}}}"),
            (std::vector<std::string>{"a", "b", "c"}));
}

std::size_t characters(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0) != 0x80;
  }));
}

TEST(Pseudo, is_longer_accented_and_keeps_the_arguments) {
  const std::string text = "Enter the flow printed on {part}, please.";
  const std::string changed = pseudo(text);
  EXPECT_EQ(changed.front(), '[');
  EXPECT_EQ(changed.back(), ']');
  EXPECT_NE(changed.find("{part}"), std::string::npos);
  EXPECT_EQ(changed.find("flow"), std::string::npos);
  // Two fifths more of the literal text, which is all but the 6 characters of the argument; the
  // brackets come on top.
  EXPECT_GE(characters(changed) - 8, (characters(text) - 6) * 14 / 10);
  EXPECT_LE(characters(changed) - 8, (characters(text) - 6) * 16 / 10);
}

TEST(Catalogue, every_entry_is_well_formed_in_english_and_in_pseudo) {
  const Catalogue& en = catalogue("en");
  const Catalogue& xa = catalogue("en-XA");
  EXPECT_EQ(en.language(), "en");
  EXPECT_EQ(xa.language(), "en-XA");
  EXPECT_FALSE(en.ids().empty());
  for (const std::string& id : en.ids()) {
    EXPECT_EQ(fault_of(*en.find(id)), "") << id;
    ASSERT_NE(xa.find(id), nullptr) << id;
    EXPECT_EQ(fault_of(*xa.find(id)), "") << id;
    EXPECT_EQ(arguments_of(*xa.find(id)), arguments_of(*en.find(id))) << id;
    EXPECT_EQ(en.find(id)->find('\n'), std::string::npos) << id;
  }
}

TEST(Catalogue, ids_stand_in_order_and_once) {
  const auto json = nlohmann::ordered_json::parse(data::file("messages/en.json"));
  std::set<std::string> seen;
  std::string previous;
  // The parser keeps the first of two equal keys, so equal keys are looked for in the text.
  const std::string text(data::file("messages/en.json"));
  for (const auto& [id, pattern] : json.items()) {
    EXPECT_LT(previous, id);
    previous = id;
    const std::string key = "\n  \"" + id + "\":";
    const auto first = text.find(key);
    EXPECT_NE(first, std::string::npos) << id;
    EXPECT_EQ(text.find(key, first + 1), std::string::npos) << id;
  }
}

TEST(FormatNumber, groups_and_rounds) {
  EXPECT_EQ(format_number(1234.5, 5, "en"), "1,234.5");
  EXPECT_EQ(format_number(14, 3, "en"), "14.0");
  EXPECT_EQ(format_number(1.2, 3, "en"), "1.20");
  EXPECT_EQ(format_number(999.96, 4, "en"), "1,000");
  EXPECT_EQ(format_number(1234567, 3, "en"), "1,230,000");
  EXPECT_EQ(format_number(0.00123456, 3, "en"), "0.00123");
  EXPECT_EQ(format_number(-0.5, 1, "en"), "-0.5");
  EXPECT_EQ(format_number(20000, 1, "en"), "20,000");
}

TEST(FormatNumber, writes_in_the_marks_of_the_language) {
  EXPECT_EQ(format_number(1234.5, 5, "en-XA"), "1,234.5");
  EXPECT_EQ(format_number(1234.5, 5, "de"), "1.234,5");
  EXPECT_EQ(format_number(1234.5, 5, "de-AT"), "1.234,5");
  EXPECT_EQ(format_number(1234.5, 5, "fr"), "1\u202F234,5");
  EXPECT_EQ(format_number(1234.5, 5, "es"), "1234,5");
  EXPECT_EQ(format_number(12345, 5, "es"), "12.345");
  EXPECT_EQ(format_number(12345678, 8, "hi"), "1,23,45,678");
}

TEST(FormatNumber, zero_has_no_sign_and_powers_are_rare) {
  EXPECT_EQ(format_number(-0.0, 3, "en"), "0");
  EXPECT_EQ(format_number(1e-6, 2, "en"), "0.0000010");
  EXPECT_EQ(format_number(1.5e-9, 2, "en"), "1.5×10⁻⁹");
  EXPECT_EQ(format_number(1e14, 1, "en"), "100,000,000,000,000");
  EXPECT_EQ(format_number(2e300, 1, "en"), "2×10³⁰⁰");
  EXPECT_EQ(format_number(std::numeric_limits<double>::infinity(), 3, "en"), "∞");
  EXPECT_EQ(format_number(std::nan(""), 3, "en"), "–");
}

TEST(FormatNumber, puts_the_unit_after_a_no_break_space) {
  EXPECT_EQ(format_quantity({25, "°C", 2}, "en"), "25\u00A0°C");
  EXPECT_EQ(format_quantity({25, "%", 2}, "en"), "25%");
  EXPECT_EQ(format_quantity({25, "%", 2}, "de"), "25\u00A0%");
  EXPECT_EQ(format_quantity({25, "", 2}, "en"), "25");
}

TEST(FormatNumber, knows_how_many_digits_were_given) {
  EXPECT_EQ(digits_of(20000), 1);
  EXPECT_EQ(digits_of(0), 1);
  EXPECT_EQ(digits_of(1.5), 2);
  EXPECT_EQ(digits_of(-5.25), 3);
  EXPECT_EQ(digits_of(0.1 + 0.2), 17);
}

// A site's name from a stranger's file must not clear the screen or turn the line around.
TEST(Render, shows_no_control_characters_of_arguments) {
  const Catalogue words(R"({"a": "{name}!"})", "en");
  const auto shown = [&](const std::string& name) {
    return render(words, base::Message{"a", {{"name", name}}});
  };
  EXPECT_EQ(shown("\x1b[2J"), "\uFFFD[2J!");
  EXPECT_EQ(shown("a\r\nb"), "a\uFFFD\uFFFDb!");
  EXPECT_EQ(shown("\u009B31m"), "\uFFFD31m!");
  EXPECT_EQ(shown("x\u202Ey"), "x\uFFFDy!");
  EXPECT_EQ(shown("Schule für Ünï"), "Schule für Ünï!");
}

}  // namespace
}  // namespace drawoff::messages
