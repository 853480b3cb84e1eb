// The catalogue: the words of one language, by message id.
//
// The engine returns base::Message, an id with typed arguments; render() finds the id's pattern in
// the catalogue and fills it. Patterns live in data/messages/<language>.json, one flat object, and
// use a subset of the ICU message syntax:
//
//   {name}                                        an argument: text, a number with unit, an entry
//   {n, plural, one {# filter} other {# filters}} by the number's plural form; # is the number;
//                                                 =0 {none} for an exact number
//   {side, select, feed {before} other {after}}   by a text argument
//
// Apostrophes are plain characters; braces cannot be written literally. An id without an entry and
// an argument without a value are bugs that tests look for; on a phone they show as themselves.
//
//   render(catalogue("en"), Message{"visit.count", {{"n", Number{2, "", 1}}}})
//
// "en-XA" and "ar-XB" are the pseudo-languages of the Unicode CLDR, made from English. The first is
// accented, two fifths longer, in brackets: what is clipped on a screen, or not translated at all,
// shows in it. In the second each word runs from right to left, and so do its pages.
//
// What a translation lacks is said in English. The phone's module holds English alone and is handed
// other catalogues (learn); why: docs/decisions/0016-languages.md.
#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.h"

namespace drawoff::messages {

class Catalogue {
 public:
  // `json` is a flat object of texts; a bug (CHECK) if it is not. For languages of the engine use
  // catalogue(); tests make small ones. A pseudo-language turns the texts into its own.
  Catalogue(std::string_view json, std::string_view language);

  // The pattern of an id, or null.
  const std::string* find(std::string_view id) const;
  const std::string& language() const { return language_; }
  std::vector<std::string> ids() const;
  // Adds the entries of another catalogue; those already here stay.
  void add(const Catalogue& other);

 private:
  std::map<std::string, std::string, std::less<>> texts_;
  std::string language_;
};

// Every language there can be, by its BCP 47 tag; the pseudo-languages stand last.
std::span<const std::string_view> languages();
// Whether no native speaker has read the language's words yet: screens and papers say so.
bool not_yet_read(std::string_view language);
bool right_to_left(std::string_view language);

// The catalogue of a language, read once; English where there is none of that language.
const Catalogue& catalogue(std::string_view language);
// Takes in the catalogue of one of the languages that was not built in, a flat object of texts;
// false if `json` or `language` is none. For the phone's worker, which does one thing at a time: no
// other thread may be reading.
bool learn(std::string_view language, std::string_view json);

std::string render(const Catalogue& catalogue, const base::Message& message);

// What is wrong with a pattern, in a word for the test that looks; empty if nothing is.
std::string fault_of(std::string_view pattern);
// The names of its arguments, in order of appearance, each once.
std::vector<std::string> arguments_of(std::string_view pattern);

}  // namespace drawoff::messages
