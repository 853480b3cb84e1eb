#include "paper/itemize.h"

#include <fribidi.h>

#include <algorithm>
#include <cstdint>

#include "base/check.h"

namespace drawoff::paper {
namespace {

std::string iso_15924(hb_script_t script) {
  const hb_tag_t tag = hb_script_to_iso15924_tag(script);
  std::string name(4, ' ');
  for (int i = 0; i < 4; ++i) name[i] = static_cast<char>(tag >> (24 - 8 * i) & 0xFF);
  return name;
}

// Of all scripts: digits, spaces, most signs.
bool is_shared(hb_script_t script) {
  return script == HB_SCRIPT_COMMON || script == HB_SCRIPT_INHERITED;
}

bool is_mark(hb_unicode_general_category_t category) {
  return category == HB_UNICODE_GENERAL_CATEGORY_NON_SPACING_MARK ||
         category == HB_UNICODE_GENERAL_CATEGORY_SPACING_MARK ||
         category == HB_UNICODE_GENERAL_CATEGORY_ENCLOSING_MARK;
}

bool is_variation_selector(char32_t c) {
  return (c >= 0xFE00 && c <= 0xFE0F) || (c >= 0xE0100 && c <= 0xE01EF);
}

// By character; those common to all scripts go with the text before them, at the start with the
// text behind them.
std::vector<hb_script_t> scripts_of(std::u32string_view text) {
  hb_unicode_funcs_t* unicode = hb_unicode_funcs_get_default();
  std::vector<hb_script_t> scripts(text.size());
  hb_script_t current = HB_SCRIPT_COMMON;
  std::size_t unnamed = 0;  // how many characters at the start have no script yet
  for (std::size_t i = 0; i < text.size(); ++i) {
    const hb_script_t own = hb_unicode_script(unicode, text[i]);
    if (!is_shared(own)) current = own;
    scripts[i] = current;
    if (current == HB_SCRIPT_COMMON) unnamed = i + 1;
  }
  const hb_script_t first = unnamed < text.size() ? scripts[unnamed] : HB_SCRIPT_LATIN;
  std::fill_n(scripts.begin(), unnamed, first);
  return scripts;
}

// Chooses the face of each character in turn.
class FaceChoice {
 public:
  // `scripts` are those of the paragraph's characters.
  FaceChoice(const std::vector<std::shared_ptr<const Face>>& faces,
             const std::vector<hb_script_t>& scripts)
      : faces_(faces), scripts_(scripts) {}

  // Null if no face has the character.
  std::shared_ptr<const Face> choose(char32_t c, hb_script_t script) {
    hb_unicode_funcs_t* unicode = hb_unicode_funcs_get_default();
    const hb_unicode_general_category_t category = hb_unicode_general_category(unicode, c);
    // Invisible ones and marks stay with their letter, else they could not act on it.
    const bool invisible =
        category == HB_UNICODE_GENERAL_CATEGORY_FORMAT || is_variation_selector(c);
    hb_codepoint_t composed = 0;
    if (current_ != nullptr &&
        (invisible || (is_mark(category) &&
                       (current_->has(c) || hb_unicode_compose(unicode, before_, c, &composed))))) {
      return current_;
    }
    before_ = c;
    const hb_script_t own = hb_unicode_script(unicode, c);
    current_ = invisible ? faces_.front() : find(c, is_shared(own) ? "Latn" : iso_15924(own));
    // A sign that Latin does not hold may belong to the script around it, as a danda does.
    if (current_ == nullptr) current_ = find(c, iso_15924(script));
    // Behind a Latin word, as "mg/L", it belongs to another script of the paragraph.
    for (std::size_t i = 0; current_ == nullptr && i < scripts_.size(); ++i) {
      current_ = find(c, iso_15924(scripts_[i]));
    }
    for (std::size_t i = 0; current_ == nullptr && i < faces_.size(); ++i) {
      if (faces_[i]->has(c)) current_ = faces_[i];
    }
    return current_;
  }

  // Which script's font would be needed for a character that no face has.
  std::string missing(char32_t c, hb_script_t script) const {
    const hb_script_t own = hb_unicode_script(hb_unicode_funcs_get_default(), c);
    const std::string around = iso_15924(script);
    const auto is_around = [&](const auto& face) { return face->name().script == around; };
    const bool there = std::any_of(faces_.begin(), faces_.end(), is_around);
    return is_shared(own) && !there ? around : iso_15924(own);
  }

 private:
  std::shared_ptr<const Face> find(char32_t c, const std::string& script) const {
    for (const auto& face : faces_) {
      if (face->name().script == script && face->has(c)) return face;
    }
    return nullptr;
  }

  const std::vector<std::shared_ptr<const Face>>& faces_;
  const std::vector<hb_script_t>& scripts_;
  std::shared_ptr<const Face> current_;
  char32_t before_ = 0;
};

std::vector<signed char> levels_of(const std::u32string& text, bool right_to_left) {
  const auto size = static_cast<FriBidiStrIndex>(text.size());
  std::vector<FriBidiCharType> types(text.size());
  std::vector<FriBidiBracketType> brackets(text.size());
  std::vector<signed char> levels(text.size());
  const auto* characters = reinterpret_cast<const FriBidiChar*>(text.data());
  fribidi_get_bidi_types(characters, size, types.data());
  fribidi_get_bracket_types(characters, size, types.data(), brackets.data());
  FriBidiParType base = right_to_left ? FRIBIDI_PAR_WRTL : FRIBIDI_PAR_WLTR;
  CHECK(fribidi_get_par_embedding_levels_ex(
            types.data(), brackets.data(), size, &base, levels.data()) > 0);
  return levels;
}

}  // namespace

Paragraph itemized(const Fonts& fonts, std::u32string_view text, const Setting& setting) {
  Paragraph paragraph{.text = std::u32string(text),
                      .missing = std::vector<std::string>(text.size())};
  for (char32_t& c : paragraph.text) {
    if (c < 0x20 || (c >= 0x7F && c < 0xA0) || c == 0x2028 || c == 0x2029) c = U' ';
  }
  if (text.empty()) return paragraph;
  paragraph.levels = levels_of(paragraph.text, setting.right_to_left);
  const std::vector<hb_script_t> scripts = scripts_of(paragraph.text);
  const auto& faces = fonts.faces(setting.bold);
  FaceChoice choice(faces, scripts);
  for (std::size_t i = 0; i < paragraph.text.size(); ++i) {
    const char32_t c = paragraph.text[i];
    std::shared_ptr<const Face> face = choice.choose(c, scripts[i]);
    if (face == nullptr) {
      paragraph.missing[i] = choice.missing(c, scripts[i]);
      face = faces.front();
    }
    const bool right_to_left = (paragraph.levels[i] & 1) != 0;
    std::vector<Stretch>& stretches = paragraph.stretches;
    const bool same = !stretches.empty() && stretches.back().face == face &&
                      stretches.back().script == scripts[i] &&
                      paragraph.levels[i] == paragraph.levels[i - 1];
    if (!same) {
      stretches.push_back({.begin = i,
                           .end = i,
                           .face = std::move(face),
                           .script = scripts[i],
                           .right_to_left = right_to_left});
    }
    stretches.back().end = i + 1;
  }
  return paragraph;
}

std::vector<Stretch> visual_stretches(const Paragraph& paragraph,
                                      std::pair<std::size_t, std::size_t> range) {
  const auto [begin, end] = range;
  std::vector<Stretch> stretches;
  std::vector<signed char> levels;
  for (const Stretch& stretch : paragraph.stretches) {
    if (stretch.begin >= end || stretch.end <= begin) continue;
    stretches.push_back(stretch);
    stretches.back().begin = std::max(stretch.begin, begin);
    stretches.back().end = std::min(stretch.end, end);
    levels.push_back(paragraph.levels[stretch.begin]);
  }
  // Rule L2 of [unicode2019], on stretches in place of characters: from the highest level down to
  // the lowest odd one, every stretch of at least that level is turned round.
  const int highest = levels.empty() ? 0 : *std::max_element(levels.begin(), levels.end());
  for (int level = highest; level > 0; --level) {
    for (std::size_t i = 0; i < stretches.size();) {
      std::size_t stop = i;
      while (stop < stretches.size() && levels[stop] >= level) ++stop;
      std::reverse(stretches.begin() + static_cast<std::ptrdiff_t>(i),
                   stretches.begin() + static_cast<std::ptrdiff_t>(stop));
      std::reverse(levels.begin() + static_cast<std::ptrdiff_t>(i),
                   levels.begin() + static_cast<std::ptrdiff_t>(stop));
      i = std::max(stop, i + 1);
    }
  }
  return stretches;
}

}  // namespace drawoff::paper
