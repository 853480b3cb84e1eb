#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

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

// What only the command says stays in English (docs/decisions/0016-languages.md).
bool only_of_the_command(std::string_view id, const Catalogue& en) {
  static constexpr std::string_view kGroups[] = {
      "cli.",          "serve.",       "question.",    "sign.about",     "sign.key",
      "sign.notes",    "sign.option.", "sign.usage",   "verify.about",   "verify.count",
      "verify.folder", "verify.found", "verify.notes", "verify.option.", "verify.other_key",
      "verify.usage",  "verify.zip",   "error.json.",  "error.question", "error.request",
      "error.serve."};
  if (id == "verify.attachment") return true;
  for (const std::string_view group : kGroups) {
    if (id.substr(0, group.size()) == group) return true;
  }
  // A field that no form asks has no label.
  constexpr std::string_view kField = "field.";
  if (id.substr(0, kField.size()) != kField) return false;
  return en.find("label." + std::string(id.substr(kField.size()))) == nullptr;
}

std::string translation(std::string_view language) {
  return std::string(data::file("messages/" + std::string(language) + ".json"));
}
std::vector<std::string_view> translations() {
  std::vector<std::string_view> out;
  for (const std::string_view language : languages()) {
    if (not_yet_read(language) && !translation(language).empty()) out.push_back(language);
  }
  return out;
}

std::set<std::string> as_set(const std::vector<std::string>& all) {
  return {all.begin(), all.end()};
}

// Every choice, by its argument: "n plural" -> its branches' names.
void choices_of(const Pattern& pattern, std::map<std::string, std::set<std::string>>& out) {
  for (const Node& node : pattern) {
    const bool plural = node.kind == Node::Kind::kPlural;
    for (const Branch& branch : node.branches) {
      out[node.text + (plural ? " plural" : " select")].insert(branch.key);
      choices_of(branch.nodes, out);
    }
  }
}
std::map<std::string, std::set<std::string>> choices_of(const std::string& pattern) {
  std::map<std::string, std::set<std::string>> out;
  if (const auto parsed = parse_pattern(pattern)) choices_of(*parsed, out);
  return out;
}

// Digits in a row, with marks between them taken out: "1,413" and "1413" are one number.
std::multiset<std::string> numbers_of(const std::string& text) {
  std::multiset<std::string> out;
  std::string number;
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  for (std::size_t i = 0; i <= text.size(); ++i) {
    const bool digit = i < text.size() && is_digit(text[i]);
    const bool mark = !number.empty() && i + 1 < text.size() &&
                      (text[i] == ',' || text[i] == '.') && is_digit(text[i + 1]);
    if (digit) {
      number += text[i];
    } else if (!mark && !number.empty()) {
      out.insert(std::exchange(number, {}));
    }
  }
  return out;
}

TEST(Translations, fit_the_english_texts) {
  static constexpr std::string_view kSymbols[] = {
      "mg/L", "µg/L", "µS/cm", "L/h", "mL/min", "kPa", "psi", "°C", "ppm", "NTU", "µm", "±", "UTC"};
  const Catalogue& en = catalogue("en");
  for (const std::string_view language : translations()) {
    const Catalogue own(translation(language), language);
    for (const std::string& id : own.ids()) {
      const std::string* english = en.find(id);
      ASSERT_NE(english, nullptr) << language << ' ' << id;
      const std::string& text = *own.find(id);
      EXPECT_FALSE(text.empty()) << language << ' ' << id;
      EXPECT_EQ(fault_of(text), "") << language << ' ' << id;
      EXPECT_EQ(as_set(arguments_of(text)), as_set(arguments_of(*english)))
          << language << ' ' << id;
      // English, Spanish and Hindi have the same plural forms, one and other (CLDR, from memory).
      EXPECT_EQ(choices_of(text), choices_of(*english)) << language << ' ' << id;
      EXPECT_EQ(numbers_of(text), numbers_of(*english)) << language << ' ' << id << ": " << text;
      for (const std::string_view symbol : kSymbols) {
        EXPECT_EQ(text.find(symbol) == std::string::npos,
                  english->find(symbol) == std::string::npos)
            << language << ' ' << id << ": " << symbol;
      }
    }
  }
}

TEST(Translations, lack_nothing_that_a_screen_or_paper_says) {
  const Catalogue& en = catalogue("en");
  for (const std::string_view language : translations()) {
    const Catalogue own(translation(language), language);
    for (const std::string& id : en.ids()) {
      if (only_of_the_command(id, en)) continue;
      EXPECT_NE(own.find(id), nullptr) << language << " lacks " << id << ": " << *en.find(id);
    }
  }
}

TEST(Translations, say_in_english_what_they_lack) {
  const std::string about = *catalogue("en").find("cli.about");
  EXPECT_EQ(*catalogue("es").find("cli.about"), about);
  EXPECT_EQ(catalogue("es").language(), "es");
  EXPECT_EQ(catalogue("xx").language(), "en");
}

TEST(Translations, are_learnt_and_refused_in_one_piece) {
  EXPECT_FALSE(learn("es", "[]"));
  EXPECT_FALSE(learn("es", R"({"part.pump": 3})"));
  EXPECT_FALSE(learn("es", "{"));
  EXPECT_FALSE(learn("en", R"({"part.pump": "x"})"));
  EXPECT_FALSE(learn("xx", R"({"part.pump": "x"})"));
  const std::string before = translation("hi");
  EXPECT_TRUE(learn("hi", R"({"part.pump": "पंप"})"));
  EXPECT_EQ(render(catalogue("hi"), {"part.pump"}), "पंप");
  EXPECT_EQ(render(catalogue("hi"), {"part.drain"}), render(catalogue("en"), {"part.drain"}));
  if (!before.empty()) {
    EXPECT_TRUE(learn("hi", before));
  }
}

TEST(Render, counts_as_the_language_does) {
  const auto with = [](double n, const char* language) {
    const Catalogue words(R"({"n": "{n, plural, one {one} other {other}}"})", language);
    return render(words, {"n", {{"n", Number{n, "", 2}}}});
  };
  EXPECT_EQ(with(0, "es"), "other");
  EXPECT_EQ(with(1, "es"), "one");
  EXPECT_EQ(with(0, "hi"), "one");
  EXPECT_EQ(with(1, "hi"), "one");
  EXPECT_EQ(with(2, "hi"), "other");
}

TEST(RightToLeft, turns_each_word_and_keeps_quantities_in_order) {
  EXPECT_EQ(pseudo_bidi("Read {part} · now"),
            "\u200F\u202ERead\u202C\u200F {part} · \u200F\u202Enow\u202C\u200F");
  EXPECT_TRUE(right_to_left("ar-XB"));
  EXPECT_FALSE(right_to_left("en-XA"));
  const Catalogue words(R"({"a": "{flow} {site}"})", "ar-XB");
  EXPECT_EQ(render(words, {"a", {{"flow", Number{14, "L/h", 2}}, {"site", "A"}}}),
            "\u206614\u00A0L/h\u2069 \u2068A\u2069");
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

TEST(FormatNumber, writes_units_that_are_words_in_the_language) {
  EXPECT_EQ(format_quantity({90, "US gal/day", 2}, "es"), "90\u00A0gal/día (EE.\u00A0UU.)");
  EXPECT_EQ(format_quantity({15, "min", 2}, "hi"), "15\u00A0मिनट");
  EXPECT_EQ(format_quantity({15, "min", 2}, "es"), "15\u00A0min");
  EXPECT_EQ(unit_in("mg/L as CaCO3", "es-MX"), "mg/L como CaCO3");
  EXPECT_EQ(unit_in("L/h", "hi"), "L/h");
}

TEST(FormatNumber, marks_a_plain_number_as_it_is_typed) {
  EXPECT_EQ(with_decimal_mark("1234.5", "es"), "1234,5");
  EXPECT_EQ(with_decimal_mark("1234.5", "hi"), "1234.5");
  EXPECT_EQ(with_decimal_mark("1234", "es"), "1234");
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
  // An isolate that is closed again turns nothing outside it.
  EXPECT_EQ(shown("x\u2066y\u2069"), "x\u2066y\u2069!");
  EXPECT_EQ(shown("x\u2067y"), "x\uFFFDy!");
  EXPECT_EQ(shown("x\u2069y\u2066"), "x\uFFFDy\uFFFD!");
  // An override turns its own letters, and is let through only where our own words are turned.
  EXPECT_EQ(shown("\u202Ey\u202C"), "\uFFFDy\uFFFD!");
  const Catalogue turned(R"({"a": "{name}"})", "ar-XB");
  EXPECT_EQ(render(turned, {"a", {{"name", "\u202Ey\u202C"}}}), "\u2068\u202Ey\u202C\u2069");
  EXPECT_EQ(render(turned, {"a", {{"name", "\u202Ey"}}}), "\u2068\uFFFDy\u2069");
  EXPECT_EQ(shown("Schule für Ünï"), "Schule für Ünï!");
}

}  // namespace
}  // namespace drawoff::messages
