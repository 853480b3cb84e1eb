// Screen paper: a paper as a PDF, in base64, for the app to share.
//
// Scripts beyond Latin need their fonts handed in. What was missing is named in the answer: the app
// then loads it and asks again.
#pragma once

#include <string>
#include <vector>

#include "api/form_screen.h"
#include "api/papers.h"
#include "api/question.h"
#include "book/site_file.h"

namespace drawoff::api {

struct FontInput {
  std::string script;   // ISO 15924: "Deva"
  std::string regular;  // TrueType files in base64
  std::string bold;
};
// A photo or a drawn signature.
struct PictureInput {
  std::string sha256;
  std::string jpeg;  // base64
};
struct PaperInput {
  book::Body site_file;
  PaperName paper = PaperName::kRecord;
  PageName page = PageName::kA4;
  fields::UnitSystem units = fields::UnitSystem::kMetric;
  std::vector<FontInput> fonts;
  std::string address;
  std::string letters;  // of the key that signs the record
  std::vector<PictureInput> pictures;
};
struct PaperOutput {
  std::string name;
  std::string pdf;  // base64
  int pages = 0;
  std::vector<std::string> missing_scripts;
};

base::Result<PaperOutput> ask_paper(const PaperInput& in,
                                    Working& working,
                                    const messages::Catalogue& words);

}  // namespace drawoff::api

namespace drawoff::fields {

template <>
struct EnumTable<api::PaperName> {
  static constexpr std::string_view name = "paper_name";
  static constexpr std::array list = {choice(api::PaperName::kRecord, "record"),
                                      choice(api::PaperName::kLabel, "label"),
                                      choice(api::PaperName::kSource, "source"),
                                      choice(api::PaperName::kUsers, "users"),
                                      choice(api::PaperName::kNotice, "notice")};
};
template <>
struct EnumTable<api::PageName> {
  static constexpr std::string_view name = "page_name";
  static constexpr std::array list = {choice(api::PageName::kA4, "A4"),
                                      choice(api::PageName::kLetter, "Letter")};
};
template <>
struct Table<api::FontInput> {
  using T = api::FontInput;
  static constexpr std::string_view name = "font_input";
  static constexpr auto list = std::make_tuple(field("script", &T::script, Range{4, 4}, kRequired),
                                               field("regular", &T::regular, kRequired),
                                               field("bold", &T::bold, kRequired));
};
template <>
struct Table<api::PictureInput> {
  using T = api::PictureInput;
  static constexpr std::string_view name = "picture_input";
  static constexpr auto list = std::make_tuple(
      field("sha256", &T::sha256, Range{64, 64}, kRequired), field("jpeg", &T::jpeg, kRequired));
};
template <>
struct Table<api::PaperInput> {
  using T = api::PaperInput;
  static constexpr std::string_view name = "paper_input";
  static constexpr auto list = std::make_tuple(field("site_file", &T::site_file, kRequired),
                                               field("paper", &T::paper),
                                               field("page", &T::page),
                                               field("units", &T::units),
                                               field("fonts", &T::fonts, Range{0, 40}),
                                               field("address", &T::address, Range{0, 200}),
                                               field("letters", &T::letters, Range{0, 24}),
                                               field("pictures", &T::pictures, Range{0, 40}));
};
template <>
struct Table<api::PaperOutput> {
  using T = api::PaperOutput;
  static constexpr std::string_view name = "paper_output";
  static constexpr auto list =
      std::make_tuple(field("name", &T::name, kRequired),
                      field("pdf", &T::pdf, kRequired),
                      field("pages", &T::pages, kRequired),
                      field("missing_scripts", &T::missing_scripts, kRequired));
};

}  // namespace drawoff::fields
