// The fonts of a PDF: which glyphs were used and what they mean, and in the end each font's subset.
//
// A character code stands for one glyph with one meaning: a glyph that means different characters
// in two places gets two codes, so that what is copied from the page is what was written.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "base/result.h"
#include "paper/face.h"
#include "paper/pdf_file.h"

namespace drawoff::paper {

class PdfFont {
 public:
  explicit PdfFont(std::shared_ptr<const Face> face) : face_(std::move(face)) {}

  const Face& face() const { return *face_; }
  // The code, 1 … 65,535, of a glyph that means `text` (empty: told elsewhere). Code 0, the empty
  // box, when there are no more.
  int code(std::uint32_t glyph, const std::u32string& text);
  // Of the glyph of a code [em].
  double advance(int code) const { return codes_[static_cast<std::size_t>(code)].advance; }

  // Adds the font's objects; the number of the font itself. An error if its outlines are damaged.
  base::Result<int> write(PdfFile& file) const;

 private:
  struct Code {
    std::uint32_t glyph = 0;
    double advance = 0;
    std::u32string text;
  };

  std::shared_ptr<const Face> face_;
  std::map<std::pair<std::uint32_t, std::u32string>, int> by_glyph_;
  std::vector<Code> codes_ = {Code{}};  // number 0 is the empty box
};

// By face, in the order of first use.
class PdfFonts {
 public:
  // The index of the face's font.
  std::size_t index(const std::shared_ptr<const Face>& face);
  PdfFont& font(std::size_t index) { return fonts_[index]; }
  // Adds all objects; the resource dictionary's entries: "/F0 5 0 R /F1 9 0 R".
  base::Result<std::string> write(PdfFile& file) const;

 private:
  std::vector<PdfFont> fonts_;
};

}  // namespace drawoff::paper
