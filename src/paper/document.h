// A document: blocks in reading order, printed as a PDF of as many pages as they need.
//
// The caller says what stands there, never where: print() sets the type, breaks lines and pages,
// repeats the heads of tables and numbers the pages. Every word comes from the caller, already in
// the reader's language and in any script whose font was handed in. The same document gives the
// same bytes in every build.
//
//   const Document record{
//       .title = "Commissioning record",
//       .language = "en",
//       .footer = "Ostrel school, 14 March 2025",
//       .page_label = [](const PageNumber& at) { return render(…, at.page, at.pages); },
//       .blocks = {Title{.text = "Commissioning record", .below = "Ostrel school"},
//                  Rows{.rows = {{"Product", "42 L/h"}, {"Recovery", "48 %"}}},
//                  Table{.columns = {{.head = "Point", .share = 2}, {.head = "Reading", .align =
//                  Align::kEnd}},
//                        .rows = {{{"Raw"}, {"640 µS/cm"}}, {{"Product"}, {"31 µS/cm",
//                        Weight::kBold}}}},
//                  Together{.blocks = {Heading{"Handed over"}, Signatures{…}}}}};
//   TRY(const Printed printed, print(record, fonts));
#pragma once

#include <functional>
#include <string>
#include <variant>
#include <vector>

#include "base/result.h"
#include "paper/drawing.h"
#include "paper/fonts.h"

namespace drawoff::paper {

// Lengths are in millimetres throughout.
struct PageSize {
  double width = 210;
  double height = 297;
  double margin = 18;
};
inline constexpr PageSize kA4{.width = 210, .height = 297, .margin = 18};
inline constexpr PageSize kLetter{.width = 215.9, .height = 279.4, .margin = 18};
inline constexpr PageSize kLabel{.width = 70, .height = 37, .margin = 3};

enum class Weight { kRegular, kBold };
enum class Size {
  kSmall,   // remarks, captions, labels
  kBody,    // what is read
  kLarge,   // what is read from a step away
  kPoster,  // what is read across a room: a notice at a tap
};

// A "\n" in any text begins a new line.

// The name of the paper, at its top.
struct Title {
  std::string text;
  std::string below = {};  // in small type beneath: the place, the date
};

// Stays on the page of what follows it.
struct Heading {
  std::string text;
};

struct Text {
  std::string text;
  Size size = Size::kBody;
  Weight weight = Weight::kRegular;
  Align align = Align::kStart;
  Ink ink = Ink::kLine;
};

// Where a person could be hurt: framed, with a warning triangle. `word` is "Caution" in the
// reader's language.
struct Caution {
  std::string word;
  std::string text;
  Size size = Size::kBody;
};

// Names and what they are, in two columns.
struct Row {
  std::string name;
  std::string value;
  Weight weight = Weight::kRegular;  // of the value
};
struct Rows {
  std::vector<Row> rows;
  double name_share = 0.36;  // of the width, 0 … 1
};

// A row is never cut by the end of a page; the head is repeated on the next one. Rows with fewer
// cells than columns end in empty ones; further cells are a bug.
struct Column {
  std::string head;
  double share = 1;  // of the width, relative to the other columns
  Align align = Align::kStart;
};
struct Cell {
  std::string text;
  Weight weight = Weight::kRegular;
};
struct Table {
  std::vector<Column> columns;
  std::vector<std::vector<Cell>> rows;
};

// A drawing, scaled to `width`; 0: to the full width, but never larger than it was drawn.
struct Figure {
  Drawing drawing;
  double width = 0;
  std::string caption = {};
};

// A JPEG file's bytes, baseline or progressive, printed as they are.
struct Photo {
  std::string jpeg;
  double width = 0;  // 0: the full width
  std::string caption = {};
};

// A QR code [iso2015] of error correction M. 25 mm holds a site file's address well.
struct Code {
  std::string text;
  double size = 25;
  Align align = Align::kStart;
};

// Lines to sign on. A field may hold what is known already: words, or a signature as it was drawn,
// a JPEG file as of a Photo.
struct Field {
  std::string caption;
  std::string value = {};
  std::string jpeg = {};
  double share = 1;  // of the width, relative to the other fields
};
struct Signatures {
  std::vector<Field> fields;
};

struct Space {
  double height = 4;
};

// A text that opens an address (http, https, mailto, geo).
struct Link {
  std::string text;
  std::string address;
};

struct Block;

// Stacks of blocks side by side, never cut.
struct Side {
  double share = 1;  // of the width, relative to the others
  std::vector<Block> blocks;
};
struct Beside {
  std::vector<Side> sides;
};

// Blocks that stay on one page if a page can hold them.
struct Together {
  std::vector<Block> blocks;
};

using AnyBlock = std::variant<Title,
                              Heading,
                              Text,
                              Caution,
                              Rows,
                              Table,
                              Figure,
                              Photo,
                              Code,
                              Signatures,
                              Space,
                              Link,
                              Beside,
                              Together>;
struct Block {
  AnyBlock is;

  template <class T>
  requires std::is_constructible_v<AnyBlock, T>
  // NOLINTNEXTLINE(google-explicit-constructor): blocks are listed as what they are.
  Block(T block) : is(std::move(block)) {}
};

struct PageNumber {
  int page = 1;
  int pages = 1;
};

struct Document {
  std::string title;          // shown by the reader's program
  std::string language = {};  // BCP 47: "en", "hi", "ar"
  bool right_to_left = false;
  PageSize page = {};
  std::string made = {};    // "2025-03-14T10:30:00Z", or empty: no date stands in the file
  std::string footer = {};  // at the foot of each page; with page_label unset too: no foot at all
  std::function<std::string(const PageNumber&)> page_label = {};
  std::vector<Block> blocks;
};

struct Printed {
  std::string pdf;
  int pages = 0;
  // ISO 15924 codes of scripts without a font, sorted: their characters are printed as empty boxes.
  // "Zyyy" stands for signs that belong to no script.
  std::vector<std::string> missing_scripts;
};

// Errors: a photo that is not such a JPEG, a text too long for a QR code.
base::Result<Printed> print(const Document& document, const Fonts& fonts);

}  // namespace drawoff::paper
