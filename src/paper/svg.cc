#include "paper/svg.h"

#include <fmt/format.h>

#include <cmath>
#include <string_view>
#include <vector>

#include "paper/estimate.h"
#include "paper/palette.h"

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

const char* name_of(Ink ink) {
  switch (ink) {
    case Ink::kNone:
      return "none";
    case Ink::kLine:
      return "line";
    case Ink::kQuiet:
      return "quiet";
    case Ink::kPaper:
      return "paper";
    case Ink::kRaw:
      return "raw";
    case Ink::kProduct:
      return "product";
    case Ink::kReject:
      return "reject";
    case Ink::kBand:
      return "band";
    case Ink::kMarked:
      return "marked";
  }
  return "none";
}

std::string colour(Ink ink) {
  const auto on_paper = colour_on_paper(ink);
  if (!on_paper) return "none";
  const auto whole = [](double share) { return static_cast<int>(std::lround(255 * share)); };
  return fmt::format("var(--ink-{}, #{:02x}{:02x}{:02x})",
                     name_of(ink),
                     whole(on_paper->red),
                     whole(on_paper->green),
                     whole(on_paper->blue));
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
  for (const std::string& line :
       estimated_lines(words.text, {.size = words.size, .width = words.width})) {
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
