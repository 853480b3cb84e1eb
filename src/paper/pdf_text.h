// The operators that show a run of glyphs, and what the glyphs mean to who copies the text.
#pragma once

#include <string>

#include "paper/pdf_font.h"
#include "paper/text.h"

namespace drawoff::paper {

class RunText {
 public:
  RunText(PdfFont& font, double size) : font_(font), size_(size) {}

  void add(const Cluster& cluster, bool right_to_left);
  std::string finish() &&;

 private:
  struct Placed {
    Glyph glyph;
    double x = 0;          // where it is drawn, from the begin of the run [em]
    std::u32string means;  // characters that no other glyph of the cluster tells
  };

  void show(const Placed& placed);
  void move_to(double x);
  void raise_to(double y);
  void flush();

  PdfFont& font_;
  double size_;
  std::string stream_;
  std::string shown_;  // the operand of TJ that is being made
  double at_ = 0;      // where the next glyph would be drawn [em]
  double pen_ = 0;     // where the next cluster begins
  double raised_ = 0;
};

}  // namespace drawoff::paper
