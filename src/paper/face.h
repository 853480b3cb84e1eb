// One font file, ready to shape with.
//
// A thin, immutable hold on HarfBuzz's face and font objects. Lengths are in em, so that they need
// only the type size to become millimetres.
#pragma once

#include <hb.h>

#include <memory>
#include <string>
#include <string_view>

namespace drawoff::paper {

struct FaceName {
  std::string script;  // ISO 15924; "Zmth" for the signs of mathematics
  bool bold = false;
};

class Face {
 public:
  // Null if the bytes are no TrueType font. They are not copied.
  static std::shared_ptr<const Face> create(std::string_view bytes, const FaceName& name);

  const FaceName& name() const { return name_; }
  bool has(char32_t c) const;

  // Of the line, above and below the base line [em].
  double ascent() const { return ascent_; }
  double descent() const { return descent_; }
  // The part of an em that one of the font's own units is.
  double unit() const { return unit_; }

  hb_face_t* face() const { return face_.get(); }
  hb_font_t* font() const { return font_.get(); }

 private:
  struct Delete {
    void operator()(hb_face_t* face) const { hb_face_destroy(face); }
    void operator()(hb_font_t* font) const { hb_font_destroy(font); }
  };

  Face() = default;

  FaceName name_;
  std::unique_ptr<hb_face_t, Delete> face_;
  std::unique_ptr<hb_font_t, Delete> font_;
  double ascent_ = 0;
  double descent_ = 0;
  double unit_ = 0;
};

}  // namespace drawoff::paper
