#include "paper/face.h"

#include <algorithm>

#include "base/check.h"
#include "paper/fonts.h"
#include "paper/latin_font.h"

namespace drawoff::paper {
namespace {

bool is_letter(char c) { return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z'); }

bool has_table(hb_face_t* face, hb_tag_t tag) {
  hb_blob_t* table = hb_face_reference_table(face, tag);
  const bool has = hb_blob_get_length(table) > 0;
  hb_blob_destroy(table);
  return has;
}

std::shared_ptr<const Face> own(std::string_view bytes, const FaceName& name) {
  std::shared_ptr<const Face> face = Face::create(bytes, name);
  CHECK(face != nullptr);
  return face;
}

}  // namespace

std::shared_ptr<const Face> Face::create(std::string_view bytes, const FaceName& name) {
  hb_blob_t* blob = hb_blob_create(
      bytes.data(), static_cast<unsigned>(bytes.size()), HB_MEMORY_MODE_READONLY, nullptr, nullptr);
  std::shared_ptr<Face> made(new Face);
  made->name_ = name;
  made->face_.reset(hb_face_create(blob, 0));
  hb_blob_destroy(blob);
  hb_face_t* face = made->face_.get();
  for (const hb_tag_t tag : {HB_TAG('c', 'm', 'a', 'p'),
                             HB_TAG('g', 'l', 'y', 'f'),
                             HB_TAG('h', 'e', 'a', 'd'),
                             HB_TAG('h', 'h', 'e', 'a'),
                             HB_TAG('h', 'm', 't', 'x'),
                             HB_TAG('l', 'o', 'c', 'a')}) {
    if (!has_table(face, tag)) return nullptr;
  }
  if (hb_face_get_glyph_count(face) == 0) return nullptr;
  made->unit_ = 1.0 / hb_face_get_upem(face);
  made->font_.reset(hb_font_create(face));
  hb_font_extents_t extents;
  if (!hb_font_get_h_extents(made->font_.get(), &extents)) return nullptr;
  made->ascent_ = extents.ascender * made->unit_;
  made->descent_ = -extents.descender * made->unit_;
  return made;
}

bool Face::has(char32_t c) const {
  hb_codepoint_t glyph = 0;
  return hb_font_get_nominal_glyph(font(), c, &glyph) != 0;
}

Fonts::Fonts() {
  for (const bool bold : {false, true}) {
    auto& faces = bold ? bold_ : regular_;
    faces.push_back(own(bold ? latin_bold() : latin_regular(), {.script = "Latn", .bold = bold}));
    faces.push_back(own(signs(), {.script = "Zmth"}));
  }
}

base::Result<Fonts> Fonts::create(const std::vector<ScriptFont>& scripts) {
  Fonts fonts;
  for (const ScriptFont& font : scripts) {
    const bool named =
        font.script.size() == 4 && std::all_of(font.script.begin(), font.script.end(), is_letter);
    for (const bool bold : {false, true}) {
      std::shared_ptr<const Face> face =
          Face::create(bold ? font.bold : font.regular, {.script = font.script, .bold = bold});
      if (!named || face == nullptr) {
        return base::Error{base::ErrorKind::kData, {"error.paper.font", {{"script", font.script}}}};
      }
      (bold ? fonts.bold_ : fonts.regular_).push_back(std::move(face));
    }
  }
  return fonts;
}

}  // namespace drawoff::paper
