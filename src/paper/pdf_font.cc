#include "paper/pdf_font.h"

#include <fmt/format.h>
#include <hb-subset.h>

#include <algorithm>
#include <optional>
#include <string_view>

#include "base/check.h"

namespace drawoff::paper {
namespace {

constexpr int kMostCodes = 0xFFFF;

struct Subset {
  std::string bytes;
  std::map<std::uint32_t, std::uint32_t> glyphs;  // old number to new
};

// Nothing if the outlines are damaged.
std::optional<Subset> subset_of(const Face& face, const std::vector<std::uint32_t>& glyphs) {
  hb_subset_input_t* input = hb_subset_input_create_or_fail();
  CHECK(input != nullptr);
  for (const std::uint32_t glyph : glyphs) hb_set_add(hb_subset_input_glyph_set(input), glyph);
  hb_subset_input_set_flags(input, HB_SUBSET_FLAGS_NOTDEF_OUTLINE | HB_SUBSET_FLAGS_NO_HINTING);
  // A PDF needs outlines and widths; the text was shaped already.
  hb_set_t* dropped = hb_subset_input_set(input, HB_SUBSET_SETS_DROP_TABLE_TAG);
  for (const char* tag : {"GSUB", "GPOS", "GDEF", "cmap", "name", "post", "OS/2", "gasp", "DSIG"}) {
    hb_set_add(dropped, hb_tag_from_string(tag, 4));
  }
  std::optional<Subset> subset;
  hb_subset_plan_t* plan = hb_subset_plan_create_or_fail(face.face(), input);
  hb_face_t* made = plan == nullptr ? nullptr : hb_subset_plan_execute_or_fail(plan);
  if (made != nullptr) {
    subset.emplace();
    hb_blob_t* blob = hb_face_reference_blob(made);
    unsigned length = 0;
    const char* data = hb_blob_get_data(blob, &length);
    subset->bytes.assign(data, length);
    hb_blob_destroy(blob);
    const hb_map_t* map = hb_subset_plan_old_to_new_glyph_mapping(plan);
    for (const std::uint32_t glyph : glyphs) {
      const hb_codepoint_t mapped = hb_map_get(map, glyph);
      subset->glyphs[glyph] = mapped == HB_MAP_VALUE_INVALID ? 0 : mapped;
    }
  }
  hb_face_destroy(made);
  hb_subset_plan_destroy(plan);
  hb_subset_input_destroy(input);
  return subset;
}

// The box around all glyphs, from the 'head' table (OpenType 1.9, offsets 36 … 43).
std::string box_of(const Face& face) {
  hb_blob_t* head = hb_face_reference_table(face.face(), HB_TAG('h', 'e', 'a', 'd'));
  unsigned length = 0;
  const char* data = hb_blob_get_data(head, &length);
  std::string box;
  for (unsigned at = 36; at < 44 && at + 2 <= length; at += 2) {
    const auto high = static_cast<unsigned char>(data[at]);
    const auto low = static_cast<unsigned char>(data[at + 1]);
    const auto value = static_cast<std::int16_t>(high << 8 | low);
    box += (box.empty() ? "" : " ") + pdf_number(value * face.unit() * 1000);
  }
  hb_blob_destroy(head);
  return box;
}

// Six capitals that tell one subset of a font from another, as [iso2008, 9.6.4] wants.
std::string tag_of(std::string_view bytes) {
  std::string tag;
  for (const char c : hash_digits(bytes).substr(0, 6)) {
    tag += static_cast<char>(c <= '9' ? 'A' + (c - '0') : 'K' + (c - 'A'));
  }
  return tag;
}

}  // namespace

int PdfFont::code(std::uint32_t glyph, const std::u32string& text) {
  const auto [at, fresh] = by_glyph_.try_emplace({glyph, text}, 0);
  if (fresh && codes_.size() <= kMostCodes) {
    at->second = static_cast<int>(codes_.size());
    const double advance = hb_font_get_glyph_h_advance(face_->font(), glyph) * face_->unit();
    codes_.push_back({.glyph = glyph, .advance = advance, .text = text});
  }
  return at->second;
}

base::Result<int> PdfFont::write(PdfFile& file) const {
  std::vector<std::uint32_t> glyphs;
  for (const Code& code : codes_) glyphs.push_back(code.glyph);
  const std::optional<Subset> subset = subset_of(*face_, glyphs);
  if (!subset) {
    return base::Error{base::ErrorKind::kData,
                       {"error.paper.font", {{"script", face_->name().script}}}};
  }

  std::string widths;
  std::string numbers;
  for (const Code& code : codes_) {
    widths += pdf_number(code.advance * 1000) + " ";
    const std::uint32_t number = subset->glyphs.at(code.glyph);
    numbers += static_cast<char>(number >> 8 & 0xFF);
    numbers += static_cast<char>(number & 0xFF);
  }
  std::vector<std::string> meanings;
  for (std::size_t i = 1; i < codes_.size(); ++i) {
    if (codes_[i].text.empty()) continue;
    meanings.push_back(fmt::format("<{:04X}> <{}>\n", i, utf16_digits(codes_[i].text)));
  }
  std::string map =
      "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
      "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
      "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
      "1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n";
  constexpr std::size_t kMostInBlock = 100;  // [iso2008, 9.10.3]
  for (std::size_t i = 0; i < meanings.size(); i += kMostInBlock) {
    const std::size_t count = std::min(kMostInBlock, meanings.size() - i);
    map += fmt::format("{} beginbfchar\n", count);
    for (std::size_t k = 0; k < count; ++k) map += meanings[i + k];
    map += "endbfchar\n";
  }
  map += "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend";

  const FaceName& face = face_->name();
  const std::string name =
      fmt::format("{}+{}-{}", tag_of(subset->bytes), face.script, face.bold ? "Bold" : "Regular");
  const int program =
      file.add_stream(fmt::format("/Length1 {}", subset->bytes.size()), subset->bytes);
  // Flags: symbolic, since the codes are our own. The stem's width serves substitution only.
  const int descriptor = file.add(fmt::format(
      "<< /Type /FontDescriptor /FontName /{} /Flags 4 /FontBBox [{}] /ItalicAngle 0 /Ascent {} "
      "/Descent {} /CapHeight {} /StemV {} /FontFile2 {} >>",
      name,
      box_of(*face_),
      pdf_number(face_->ascent() * 1000),
      pdf_number(-face_->descent() * 1000),
      pdf_number(face_->ascent() * 1000),
      face.bold ? 140 : 80,
      pdf_reference(program)));
  const int to_glyph = file.add_stream("", numbers);
  const int to_text = file.add_stream("", map);
  const int descendant = file.add(fmt::format(
      "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /{} /CIDSystemInfo << /Registry (Adobe) "
      "/Ordering (Identity) /Supplement 0 >> /FontDescriptor {} /W [0 [{}]] /CIDToGIDMap {} >>",
      name,
      pdf_reference(descriptor),
      widths,
      pdf_reference(to_glyph)));
  return file.add(fmt::format(
      "<< /Type /Font /Subtype /Type0 /BaseFont /{} /Encoding /Identity-H /DescendantFonts [{}] "
      "/ToUnicode {} >>",
      name,
      pdf_reference(descendant),
      pdf_reference(to_text)));
}

std::size_t PdfFonts::index(const std::shared_ptr<const Face>& face) {
  const auto same = [&](const PdfFont& font) { return &font.face() == face.get(); };
  const auto at = std::find_if(fonts_.begin(), fonts_.end(), same);
  if (at != fonts_.end()) return static_cast<std::size_t>(at - fonts_.begin());
  fonts_.emplace_back(face);
  return fonts_.size() - 1;
}

base::Result<std::string> PdfFonts::write(PdfFile& file) const {
  std::string entries;
  for (std::size_t i = 0; i < fonts_.size(); ++i) {
    TRY(const int font, fonts_[i].write(file));
    entries += fmt::format("/F{} {} ", i, pdf_reference(font));
  }
  return entries;
}

}  // namespace drawoff::paper
