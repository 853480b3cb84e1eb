// Screens say and words: the catalogue for the app. Texts without arguments it takes all at once;
// a sentence with arguments it has put together here, so that numbers and plural forms are the
// engine's everywhere.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "api/question.h"

namespace drawoff::api {

struct SayText {
  std::string key;
  std::string text;  // typed by a person: never translated
};
struct SayNumber {
  std::string key;
  double value = 0;
  std::string unit;           // symbol as shown
  std::optional<int> digits;  // significant ones; as many as the value has if absent
};
struct SayInput {
  std::string id;
  std::vector<SayText> texts;
  std::vector<SayNumber> numbers;
};
struct SayOutput {
  std::string text;
};

struct WordsInput {};
struct WordsText {
  std::string id;
  std::string text;
};
struct WordsOutput {
  std::string language;
  std::vector<WordsText> texts;  // those without arguments, by id
};

base::Result<SayOutput> ask_say(const SayInput& in,
                                Working& working,
                                const messages::Catalogue& words);
base::Result<WordsOutput> ask_words(const WordsInput& in,
                                    Working& working,
                                    const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct Table<api::SayText> {
  using T = api::SayText;
  static constexpr std::string_view name = "say_text";
  static constexpr auto list =
      std::make_tuple(field("key", &T::key, kRequired), field("text", &T::text, kRequired));
};
template <>
struct Table<api::SayNumber> {
  using T = api::SayNumber;
  static constexpr std::string_view name = "say_number";
  static constexpr auto list = std::make_tuple(field("key", &T::key, kRequired),
                                               field("value", &T::value, kRequired),
                                               field("unit", &T::unit),
                                               field("digits", &T::digits, Range{1, 17}));
};
template <>
struct Table<api::SayInput> {
  using T = api::SayInput;
  static constexpr std::string_view name = "say_input";
  static constexpr auto list = std::make_tuple(
      field("id", &T::id, kRequired), field("texts", &T::texts), field("numbers", &T::numbers));
};
template <>
struct Table<api::SayOutput> {
  using T = api::SayOutput;
  static constexpr std::string_view name = "say_output";
  static constexpr auto list = std::make_tuple(field("text", &T::text, kRequired));
};
template <>
struct Table<api::WordsInput> {
  using T = api::WordsInput;
  static constexpr std::string_view name = "words_input";
  static constexpr std::tuple<> list{};
};
template <>
struct Table<api::WordsText> {
  using T = api::WordsText;
  static constexpr std::string_view name = "words_text";
  static constexpr auto list =
      std::make_tuple(field("id", &T::id, kRequired), field("text", &T::text, kRequired));
};
template <>
struct Table<api::WordsOutput> {
  using T = api::WordsOutput;
  static constexpr std::string_view name = "words_output";
  static constexpr auto list = std::make_tuple(field("language", &T::language, kRequired),
                                               field("texts", &T::texts, kRequired));
};

}  // namespace drawoff::fields
