#include "paper/svg.h"

#include <fmt/format.h>

#include <cmath>
#include <string_view>
#include <vector>

namespace drawoff::paper {

namespace {

// With two decimals, without trailing zeros and without "-0".
std::string number(double x) {
  std::string text = fmt::format("{:.2f}", std::round(x * 100) / 100 + 0.0);
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string pair(const Spot& s) { return number(s.x) + ' ' + number(s.y); }

// Names and paper colours of the inks; the same meanings as on the PDF.
struct Look {
  const char* name;
  const char* colour;
};
Look look_of(Ink ink) {
  switch (ink) {
    case Ink::kNone:
      return {"none", "none"};
    case Ink::kLine:
      return {"line", "#14262b"};
    case Ink::kQuiet:
      return {"quiet", "#55666b"};
    case Ink::kPaper:
      return {"paper", "#ffffff"};
    case Ink::kRaw:
      return {"raw", "#2f5d8a"};
    case Ink::kProduct:
      return {"product", "#0f7a72"};
    case Ink::kReject:
      return {"reject", "#8a6d3b"};
    case Ink::kBand:
      return {"band", "#cfe0da"};
    case Ink::kMarked:
      return {"marked", "#b3401f"};
  }
  return {"none", "none"};
}

std::string colour(Ink ink) {
  const Look look = look_of(ink);
  if (ink == Ink::kNone) return "none";
  return fmt::format("var(--ink-{}, {})", look.name, look.colour);
}

// XML 1.0 allows no control characters but tab and line end, whatever a name holds.
std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        if (static_cast<unsigned char>(c) >= 0x20) out += c;
    }
  }
  return out;
}

// Characters of UTF-8 text; near enough for an estimate of its width.
std::size_t characters(std::string_view text) {
  std::size_t count = 0;
  for (const char c : text) count += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  return count;
}

std::vector<std::string> lines_of(const Words& words) {
  constexpr double kMeanWidth = 0.54;  // of a letter, in sizes, of a usual sans serif
  if (words.width <= 0) return {words.text};
  const auto most = static_cast<std::size_t>(words.width / (kMeanWidth * words.size));
  std::vector<std::string> lines(1);
  std::string_view rest = words.text;
  while (!rest.empty()) {
    const std::size_t end = std::min(rest.find(' '), rest.size());
    const std::string_view word = rest.substr(0, end);
    rest.remove_prefix(std::min(end + 1, rest.size()));
    if (!lines.back().empty() && characters(lines.back()) + 1 + characters(word) > most) {
      lines.emplace_back();
    }
    if (!lines.back().empty()) lines.back() += ' ';
    lines.back() += word;
  }
  return lines;
}

std::string written(const Path& path) {
  std::string out =
      fmt::format("<path d=\"{}\" style=\"fill:{}", path_data(path), colour(path.fill));
  if (path.stroke.ink != Ink::kNone) {
    out += fmt::format(";stroke:{};stroke-width:{};stroke-linejoin:round",
                       colour(path.stroke.ink),
                       number(path.stroke.width));
    if (path.stroke.dashed) {
      out += fmt::format(";stroke-dasharray:{} {}",
                         number(2.5 * path.stroke.width),
                         number(2 * path.stroke.width));
    }
  }
  return out + "\"/>\n";
}

std::string written(const Words& words) {
  const char* anchor = words.align == Align::kStart    ? "start"
                       : words.align == Align::kMiddle ? "middle"
                                                       : "end";
  std::string out = fmt::format("<text style=\"fill:{};font-size:{}px;text-anchor:{}{}\">",
                                colour(words.ink),
                                number(words.size),
                                anchor,
                                words.bold ? ";font-weight:bold" : "");
  double y = words.at.y;
  for (const std::string& line : lines_of(words)) {
    out += fmt::format(
        "<tspan x=\"{}\" y=\"{}\">{}</tspan>", number(words.at.x), number(y), escaped(line));
    y += 1.25 * words.size;
  }
  return out + "</text>\n";
}

}  // namespace

std::string path_data(const Path& path) {
  std::string out;
  for (const Segment& s : path.segments) {
    if (!out.empty()) out += ' ';
    switch (s.kind) {
      case Segment::Kind::kMove:
        out += 'M' + pair(s.to);
        break;
      case Segment::Kind::kLine:
        out += 'L' + pair(s.to);
        break;
      case Segment::Kind::kCurve:
        out += 'C' + pair(s.control_1) + ' ' + pair(s.control_2) + ' ' + pair(s.to);
        break;
      case Segment::Kind::kClose:
        out += 'Z';
        break;
    }
  }
  return out;
}

std::string to_svg(const Drawing& drawing, const SvgOptions& options) {
  std::string out = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1}\" width=\"{0}mm\" "
      "height=\"{1}mm\" role=\"img\" lang=\"{2}\" font-family=\"Noto Sans, sans-serif\">\n"
      "<title>{3}</title>\n",
      number(drawing.width),
      number(drawing.height),
      escaped(options.language),
      escaped(options.title));
  for (const Item& item : drawing.items) {
    out += std::visit([](const auto& shape) { return written(shape); }, item);
  }
  return out + "</svg>\n";
}

}  // namespace drawoff::paper
