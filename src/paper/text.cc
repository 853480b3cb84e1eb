#include "paper/text.h"

#include <unilbrk.h>

#include <algorithm>
#include <cstddef>
#include <utility>

#include "base/check.h"
#include "paper/itemize.h"
#include "paper/utf8.h"

namespace drawoff::paper {
namespace {

struct BufferDelete {
  void operator()(hb_buffer_t* buffer) const { hb_buffer_destroy(buffer); }
};
using Buffer = std::unique_ptr<hb_buffer_t, BufferDelete>;

// Shapes the characters of one stretch, which all share face, script and direction.
Run shaped(const Paragraph& paragraph, const Stretch& stretch, const std::string& language) {
  const Buffer buffer(hb_buffer_create());
  hb_buffer_t* b = buffer.get();
  const std::u32string& text = paragraph.text;
  // The whole paragraph is given, so that letters join across a change of font.
  hb_buffer_add_utf32(b,
                      reinterpret_cast<const std::uint32_t*>(text.data()),
                      static_cast<int>(text.size()),
                      static_cast<unsigned>(stretch.begin),
                      static_cast<int>(stretch.end - stretch.begin));
  hb_buffer_set_direction(b, stretch.right_to_left ? HB_DIRECTION_RTL : HB_DIRECTION_LTR);
  hb_buffer_set_script(b, stretch.script);
  hb_buffer_set_language(
      b, hb_language_from_string(language.data(), static_cast<int>(language.size())));
  hb_buffer_set_flags(b, HB_BUFFER_FLAG_REMOVE_DEFAULT_IGNORABLES);
  hb_shape(stretch.face->font(), b, nullptr, 0);

  unsigned count = 0;
  const hb_glyph_info_t* infos = hb_buffer_get_glyph_infos(b, &count);
  const hb_glyph_position_t* positions = hb_buffer_get_glyph_positions(b, &count);
  Run run{.face = stretch.face, .right_to_left = stretch.right_to_left};
  const double unit = stretch.face->unit();
  std::vector<std::size_t> begins;
  for (unsigned i = 0; i < count; ++i) {
    if (begins.empty() || begins.back() != infos[i].cluster) {
      begins.push_back(infos[i].cluster);
      run.clusters.emplace_back();
    }
    run.clusters.back().glyphs.push_back({.id = infos[i].codepoint,
                                          .advance = positions[i].x_advance * unit,
                                          .x = positions[i].x_offset * unit,
                                          .y = positions[i].y_offset * unit});
  }
  // A cluster reaches to the next one in reading order.
  for (std::size_t i = 0; i < begins.size(); ++i) {
    std::size_t end = stretch.end;
    if (stretch.right_to_left) {
      if (i > 0) end = begins[i - 1];
    } else if (i + 1 < begins.size()) {
      end = begins[i + 1];
    }
    run.clusters[i].text = text.substr(begins[i], end - begins[i]);
  }
  return run;
}

bool is_space(char32_t c) {
  return c == U' ' || c == U'\u3000' || (c >= 0x2000 && c <= 0x200B && c != 0x2007);
}

// Turns the direction of text, and leaves no glyph.
bool is_turn(char32_t c) {
  return c == 0x200E || c == 0x200F || (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069);
}

// The characters begin … end as one line.
Line line_of(const Paragraph& paragraph,
             std::pair<std::size_t, std::size_t> range,
             const std::string& language) {
  auto [begin, end] = range;
  while (end > begin && is_space(paragraph.text[end - 1])) --end;
  Line line{.text = paragraph.text.substr(begin, end - begin)};
  for (const Stretch& stretch : visual_stretches(paragraph, {begin, end})) {
    line.runs.push_back(shaped(paragraph, stretch, language));
    for (const Cluster& cluster : line.runs.back().clusters) {
      for (const Glyph& glyph : cluster.glyphs) line.width += glyph.advance;
    }
  }
  for (std::size_t i = begin; i < end; ++i) {
    if (!paragraph.missing[i].empty()) line.missing.insert(paragraph.missing[i]);
  }
  return line;
}

// Of each character [em]: the whole cluster's at its first one, none at the others (negative).
std::vector<double> advances(const Paragraph& paragraph, const std::string& language) {
  std::vector<double> result(paragraph.text.size(), -1);
  for (const Stretch& stretch : paragraph.stretches) {
    const Run run = shaped(paragraph, stretch, language);
    // Characters that leave no glyph stand in the cluster before them; those in front in none.
    std::size_t told = 0;
    for (const Cluster& cluster : run.clusters) told += cluster.text.size();
    std::size_t at = stretch.right_to_left ? stretch.end : stretch.end - told;
    for (const Cluster& cluster : run.clusters) {
      if (stretch.right_to_left) at -= cluster.text.size();
      double advance = 0;
      for (const Glyph& glyph : cluster.glyphs) advance += glyph.advance;
      if (at < result.size()) result[at] = advance;
      if (!stretch.right_to_left) at += cluster.text.size();
    }
  }
  return result;
}

// Where lines begin, and the end of the text.
std::vector<std::size_t> line_begins(const Paragraph& paragraph,
                                     double width,
                                     const std::string& language) {
  const std::size_t size = paragraph.text.size();
  std::vector<std::size_t> begins{0};
  if (size == 0 || width == std::numeric_limits<double>::infinity()) return {0, size};
  std::vector<char> breaks(size);
  u32_possible_linebreaks(
      reinterpret_cast<const std::uint32_t*>(paragraph.text.data()), size, "UTF-8", breaks.data());
  const std::vector<double> advance = advances(paragraph, language);
  // Sums of advances differ in their last digits from the sum of a line shaped alone.
  const double limit = width + 1e-6;
  double x = 0;
  std::size_t possible = 0;  // the last place at which this line could end, and its x
  double x_there = 0;
  for (std::size_t i = 0; i < size; ++i) {
    if (advance[i] < 0 && !is_turn(paragraph.text[i])) continue;
    // Departing from [unicode2021], a solidus allows no break: units such as L/h stay whole.
    const bool in_unit = i > 0 && paragraph.text[i - 1] == U'/';
    if (breaks[i] == UC_BREAK_POSSIBLE && !in_unit) {
      possible = i;
      x_there = x;
    }
    if (advance[i] < 0) continue;
    if (x + advance[i] > limit && !is_space(paragraph.text[i]) && i > begins.back()) {
      // Within a word only if the word alone is wider than the line.
      const bool between = possible > begins.back();
      begins.push_back(between ? possible : i);
      x = between ? x - x_there : 0;
    }
    x += advance[i];
  }
  begins.push_back(size);
  return begins;
}

}  // namespace

std::vector<Line> set_text(const Fonts& fonts, std::string_view text, const Setting& setting) {
  std::vector<Line> lines;
  const std::u32string all = decoded(text);
  std::u32string_view rest = all;
  for (bool last = false; !last;) {
    const std::size_t end = std::min(rest.find(U'\n'), rest.size());
    last = end == rest.size();
    const Paragraph paragraph = itemized(fonts, rest.substr(0, end), setting);
    const auto begins = line_begins(paragraph, setting.width, setting.language);
    for (std::size_t i = 0; i + 1 < begins.size(); ++i) {
      lines.push_back(line_of(paragraph, {begins[i], begins[i + 1]}, setting.language));
    }
    if (!last) rest.remove_prefix(end + 1);
  }
  return lines;
}

Line set_line(const Fonts& fonts, std::string_view text, Setting setting) {
  setting.width = std::numeric_limits<double>::infinity();
  std::string flat(text);
  std::replace(flat.begin(), flat.end(), '\n', ' ');
  return std::move(set_text(fonts, flat, setting).front());
}

double leading(const Line& line) {
  double em = 1.42;
  for (const Run& run : line.runs) em = std::max(em, run.face->ascent() + run.face->descent());
  return std::min(em, 1.7);  // fonts allow for stacks of marks that words do not have
}

double width_of(const Fonts& fonts, std::string_view text, const Type& type) {
  return set_line(fonts, text, {.bold = type.bold}).width * type.size;
}

std::vector<std::string> wrapped(const Fonts& fonts,
                                 std::string_view text,
                                 const Type& type,
                                 double width) {
  CHECK(type.size > 0);
  std::vector<std::string> result;
  for (const Line& line : set_text(fonts, text, {.width = width / type.size, .bold = type.bold})) {
    result.push_back(encoded(line.text));
  }
  return result;
}

}  // namespace drawoff::paper
