#include "paper/document.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <regex>
#include <string>
#include <vector>

#include "paper/jpeg_test.h"
#include "paper/layout.h"
#include "paper/outline.h"
#include "paper/pages.h"
#include "paper/utf8.h"

namespace drawoff::paper {
namespace {

const Fonts& fonts() {
  static const Fonts latin;
  return latin;
}

Printed printed(const Document& document) {
  auto result = print(document, fonts());
  EXPECT_TRUE(result);
  return result ? *std::move(result) : Printed{};
}

std::vector<Page> pages_of(const std::vector<Block>& blocks, const PageSize& size = kA4) {
  const Sheet sheet{.fonts = fonts(), .width = size.width - 2 * size.margin};
  const auto pieces = laid_out(blocks, sheet);
  EXPECT_TRUE(pieces);
  return paginated(*pieces, {.page = size});
}

std::vector<std::string> texts_of(const Page& page) {
  std::vector<std::string> texts;
  for (const Mark& mark : page.marks) {
    if (const auto* text = std::get_if<TextMark>(&mark)) texts.push_back(encoded(text->line.text));
  }
  return texts;
}

Table table_of(int rows) {
  Table table{.columns = {{.head = "Point"}, {.head = "Reading", .align = Align::kEnd}}};
  for (int i = 0; i < rows; ++i) table.rows.push_back({{"row " + std::to_string(i)}, {"42"}});
  return table;
}

TEST(document, a_table_that_goes_on_repeats_its_head_and_keeps_every_row) {
  const auto pages = pages_of({table_of(120)});
  ASSERT_GT(pages.size(), 2u);
  int next = 0;
  for (const Page& page : pages) {
    const auto texts = texts_of(page);
    EXPECT_EQ(texts[0], "Point");
    EXPECT_EQ(texts[1], "Reading");
    for (const std::string& text : texts) {
      if (!text.starts_with("row ")) continue;
      EXPECT_EQ(text, "row " + std::to_string(next));
      ++next;
    }
  }
  EXPECT_EQ(next, 120);
}

TEST(document, nothing_stands_outside_the_margins) {
  std::string words;
  for (int i = 0; i < 900; ++i) words += "A machine that makes drinking water. ";
  for (const PageSize& size : {kA4, kLetter, kLabel}) {
    for (const Page& page :
         pages_of({Title{.text = "Record"}, Text{.text = words}, table_of(60)}, size)) {
      for (const Mark& mark : page.marks) {
        const auto* text = std::get_if<TextMark>(&mark);
        if (text == nullptr) continue;
        EXPECT_GE(text->at.x, size.margin - 1e-6);
        EXPECT_LE(text->at.x + text->size * text->line.width, size.width - size.margin + 1e-6);
        EXPECT_GT(text->at.y, size.margin);
        EXPECT_LT(text->at.y, size.height - size.margin);
      }
    }
  }
}

TEST(document, a_heading_stays_with_what_follows) {
  // However far down the page it comes.
  for (int lines = 30; lines < 70; ++lines) {
    std::vector<Block> blocks;
    for (int i = 0; i < lines; ++i) blocks.emplace_back(Text{.text = "line"});
    blocks.emplace_back(Heading{"Handed over"});
    blocks.emplace_back(table_of(3));
    for (const Page& page : pages_of(blocks)) {
      const auto texts = texts_of(page);
      const auto heading = std::find(texts.begin(), texts.end(), "Handed over");
      if (heading == texts.end()) continue;
      EXPECT_TRUE(std::find(heading, texts.end(), "row 0") != texts.end()) << lines;
    }
  }
}

TEST(document, blocks_are_kept_together) {
  for (int lines = 30; lines < 60; lines += 5) {
    std::vector<Block> blocks;
    for (int i = 0; i < lines; ++i) blocks.emplace_back(Text{.text = "line"});
    blocks.emplace_back(
        Together{.blocks = {Text{.text = "first"}, table_of(9), Text{.text = "last"}}});
    for (const Page& page : pages_of(blocks)) {
      const auto texts = texts_of(page);
      EXPECT_EQ(std::count(texts.begin(), texts.end(), "first"),
                std::count(texts.begin(), texts.end(), "last"));
    }
  }
}

TEST(document, what_is_higher_than_a_page_is_printed_smaller) {
  Drawing tall{.width = 100, .height = 900};
  tall.items.push_back(
      Path{.segments = rectangle({.width = 100, .height = 900}), .stroke = {.ink = Ink::kLine}});
  const auto pages = pages_of({Figure{.drawing = tall}});
  ASSERT_EQ(pages.size(), 1u);
  const auto& path = std::get<PathMark>(pages[0].marks.at(0));
  for (const Segment& segment : path.segments) {
    if (segment.kind == Segment::Kind::kClose) continue;
    EXPECT_GE(segment.to.y, kA4.margin - 1e-9);
    EXPECT_LE(segment.to.y, kA4.height - kA4.margin + 1e-9);
  }
}

TEST(document, in_a_right_to_left_language_columns_begin_on_the_right) {
  const Sheet sheet{.fonts = fonts(), .right_to_left = true, .width = 100};
  const auto pieces = laid_out({Rows{.rows = {{"name", "value"}}, .name_share = 0.5}}, sheet);
  ASSERT_TRUE(pieces);
  const auto& name = std::get<TextMark>(pieces->at(0).marks.at(0));
  const auto& value = std::get<TextMark>(pieces->at(0).marks.at(1));
  EXPECT_NEAR(name.at.x + name.size * name.line.width, 100, 1e-6);
  EXPECT_LT(value.at.x, 50);
}

TEST(document, the_foot_names_each_page) {
  std::vector<std::string> asked;
  const auto label = [&](const PageNumber& at) {
    asked.push_back(std::to_string(at.page) + "/" + std::to_string(at.pages));
    return asked.back();
  };
  EXPECT_EQ(printed({.page_label = label, .blocks = {table_of(70)}}).pages, 2);
  // The first was for the room that it takes.
  EXPECT_EQ(asked, (std::vector<std::string>{"88/88", "1/2", "2/2"}));
}

// A page of lines and a foot: how many pages that makes with so long a foot.
TEST(document, a_long_foot_takes_room_from_the_text) {
  const auto pages = [](std::size_t words) {
    std::string footer;
    for (std::size_t i = 0; i < words; ++i) footer += "a name that is long ";
    std::vector<Block> lines;
    for (int i = 0; i < 50; ++i) lines.emplace_back(Space{.height = 5});
    return printed({.footer = footer, .blocks = std::move(lines)}).pages;
  };
  EXPECT_EQ(pages(1), 1);
  EXPECT_EQ(pages(40), 2);
}

// Names of 80 letters, and a box for a dozen: they wrap and push the line down, not up.
TEST(document, long_names_make_the_box_of_signatures_grow) {
  const auto laid = [](const std::string& name) {
    const Sheet sheet{.fonts = fonts(), .width = 40};
    const Signatures both{.fields = {{.caption = "Name", .value = name}, {.caption = "Date"}}};
    return laid_out({both}, sheet)->at(0);
  };
  const Piece brief = laid("R. Tamsin");
  const Piece tall = laid(std::string(78, 'n') + ", " + std::string(78, 'n'));
  EXPECT_GT(tall.height, 2 * brief.height);
  for (const Mark& mark : tall.marks) {
    const auto* text = std::get_if<TextMark>(&mark);
    if (text == nullptr) continue;
    EXPECT_GT(text->at.y, 0);
    EXPECT_LT(text->at.y, tall.height);
    EXPECT_LE(text->size * text->line.width, 17 + 1e-6);
  }
  // A short name leaves the room for a hand as it was.
  EXPECT_EQ(brief.height, laid("").height);
}

TEST(document, an_empty_document_is_one_empty_page) { EXPECT_EQ(printed({}).pages, 1); }

TEST(document, references_and_offsets_hold) {
  const std::string pdf =
      printed({.title = "Record", .blocks = {Title{.text = "Record"}, table_of(99)}}).pdf;
  const std::size_t start = pdf.rfind("startxref\n");
  ASSERT_NE(start, std::string::npos);
  const std::size_t table = std::stoul(pdf.substr(start + 10));
  ASSERT_EQ(pdf.substr(table, 7), "xref\n0 ");
  const int count = std::stoi(pdf.substr(table + 7));
  const std::size_t rows = pdf.find('\n', table + 5) + 1;
  for (int object = 1; object < count; ++object) {
    const std::size_t offset = std::stoul(pdf.substr(rows + 20 * object, 10));
    const std::string head = std::to_string(object) + " 0 obj\n";
    EXPECT_EQ(pdf.substr(offset, head.size()), head);
  }
  // What is referred to exists; binary streams hold no " 0 R".
  const std::regex reference(R"((\d+) 0 R)");
  for (auto at = std::sregex_iterator(pdf.begin(), pdf.end(), reference);
       at != std::sregex_iterator();
       ++at) {
    EXPECT_LT(std::stoi((*at)[1]), count);
  }
}

TEST(document, is_the_same_each_time_and_differs_with_its_words) {
  const Document document{.title = "Record", .blocks = {Text{.text = "Water"}}};
  EXPECT_EQ(printed(document).pdf, printed(document).pdf);
  const std::string other = printed({.title = "Record", .blocks = {Text{.text = "Wafer"}}}).pdf;
  const auto id = [](const std::string& pdf) { return pdf.substr(pdf.rfind("/ID ["), 40); };
  EXPECT_NE(id(printed(document).pdf), id(other));
}

TEST(document, no_date_stands_in_it_unless_given) {
  EXPECT_EQ(printed({}).pdf.find("CreationDate"), std::string::npos);
  EXPECT_NE(printed({.made = "2025-03-14T10:30:00Z"}).pdf.find("/CreationDate (D:20250314103000Z)"),
            std::string::npos);
}

TEST(document, photos_that_cannot_be_printed_are_told_by_number) {
  const Document document{.blocks = {Photo{.jpeg = small_jpeg({}), .width = 50},
                                     Beside{.sides = {{.blocks = {Photo{.jpeg = small_jpeg({})}}},
                                                      {.blocks = {Photo{.jpeg = "GIF89a"}}}}}}};
  const auto result = print(document, fonts());
  ASSERT_FALSE(result);
  EXPECT_EQ(result.error().message.id, "error.paper.photo");
  EXPECT_EQ(std::get<base::Number>(result.error().message.arguments.at(0).second).value, 3);
}

TEST(document, a_drawn_signature_is_printed_as_it_is) {
  const auto count = [](const std::string& jpeg) {
    const std::string pdf =
        printed({.blocks = {Signatures{.fields = {{.caption = "Signature", .jpeg = jpeg}}}}}).pdf;
    std::size_t n = 0;
    for (auto at = pdf.find("/DCTDecode"); at != std::string::npos;
         at = pdf.find("/DCTDecode", at + 1)) {
      ++n;
    }
    return n;
  };
  EXPECT_EQ(count(""), 0);
  EXPECT_EQ(count(small_jpeg({})), 1);
  EXPECT_FALSE(print({.blocks = {Signatures{.fields = {{.jpeg = "GIF89a"}}}}}, fonts()));
}

TEST(document, missing_scripts_are_told_once_and_sorted) {
  const Printed paper =
      printed({.footer = "ไทย",
               .blocks = {Text{.text = "हिन्दी"}, Heading{"العربية"}, Text{.text = "हिन्दी"}}});
  EXPECT_EQ(paper.missing_scripts, (std::vector<std::string>{"Arab", "Deva", "Thai"}));
}

RC_GTEST_PROP(document,
              any_words_are_printed,
              (const std::string& one, const std::string& other, bool right_to_left)) {
  const auto result = print({.title = one,
                             .language = other,
                             .right_to_left = right_to_left,
                             .footer = other,
                             .blocks = {Title{.text = one, .below = other},
                                        Heading{other},
                                        Text{.text = one, .size = Size::kPoster},
                                        Caution{.word = one, .text = other},
                                        Rows{.rows = {{one, other}}},
                                        Table{.columns = {{.head = one}, {.head = other}},
                                              .rows = {{{one}}, {{other}, {one}}}},
                                        Link{.text = one, .address = other},
                                        Code{.text = one},
                                        Signatures{.fields = {{.caption = one, .value = other}}}}},
                            fonts());
  RC_ASSERT(static_cast<bool>(result));
  RC_ASSERT(result->pages >= 1);
}

}  // namespace
}  // namespace drawoff::paper
