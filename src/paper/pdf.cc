#include "paper/pdf.h"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "paper/pdf_file.h"
#include "paper/pdf_font.h"
#include "paper/pdf_text.h"
#include "paper/utf8.h"

namespace drawoff::paper {
namespace {

std::string colour(const Colour& colour, std::string_view operation) {
  return fmt::format("{} {} {} {}\n",
                     pdf_number(colour.red),
                     pdf_number(colour.green),
                     pdf_number(colour.blue),
                     operation);
}

// What the pages share while they are written.
struct Shared {
  PdfFile file;
  PdfFonts fonts;
  std::string photos;  // entries of the resource dictionary
  int photo_count = 0;
};

// Writes the content of one page.
class Content {
 public:
  Content(Shared& shared, double height) : shared_(shared), height_(height) {}

  void operator()(const TextMark& mark) {
    if (mark.line.runs.empty()) return;
    stream_ += "BT\n" + colour(mark.colour, "rg") + spot(mark.at) + " Td\n";
    for (const Run& run : mark.line.runs) text(run, mark.size);
    stream_ += "ET\n";
  }

  void operator()(const PathMark& mark) {
    if (!mark.fill && !mark.stroke) return;
    if (mark.fill) stream_ += colour(*mark.fill, "rg");
    if (mark.stroke) {
      const double dash = std::max(4 * mark.width, 1.2);  // [mm], to be seen in any weight
      stream_ += colour(*mark.stroke, "RG") + pdf_points(mark.width) + " w\n";
      stream_ +=
          mark.dashed
              ? fmt::format("[{} {}] 0 d\n", pdf_points(dash), pdf_points(0.6 * dash + mark.width))
              : "[] 0 d\n";
    }
    for (const Segment& segment : mark.segments) stream_ += step(segment);
    stream_ += mark.fill && mark.stroke ? "B\n" : mark.fill ? "f\n" : "S\n";
  }

  void operator()(const PhotoMark& mark) {
    const int number = shared_.photo_count++;
    const int object = shared_.file.add_stream(
        fmt::format("/Type /XObject /Subtype /Image /Width {} /Height {} /ColorSpace /{} "
                    "/BitsPerComponent 8 /Filter /DCTDecode",
                    mark.jpeg.width,
                    mark.jpeg.height,
                    mark.jpeg.components == 1 ? "DeviceGray" : "DeviceRGB"),
        mark.jpeg.bytes);
    shared_.photos += fmt::format("/P{} {} ", number, pdf_reference(object));
    const Spot low{.x = mark.at.x, .y = mark.at.y + mark.height};
    stream_ += fmt::format("q {} 0 0 {} {} cm /P{} Do Q\n",
                           pdf_points(mark.width),
                           pdf_points(mark.height),
                           spot(low),
                           number);
  }

  void operator()(const LinkMark& mark) {
    const Spot low{.x = mark.at.x, .y = mark.at.y + mark.height};
    const Spot high{.x = mark.at.x + mark.width, .y = mark.at.y};
    links_ += fmt::format(
        "<< /Type /Annot /Subtype /Link /Rect [{} {}] /Border [0 0 0] /F 4 /A << /S /URI /URI {} "
        ">> >> ",
        spot(low),
        spot(high),
        pdf_string(mark.address));
  }

  const std::string& stream() const { return stream_; }
  const std::string& links() const { return links_; }

 private:
  std::string spot(const Spot& at) const {
    return pdf_points(at.x) + " " + pdf_points(height_ - at.y);
  }

  std::string step(const Segment& segment) const {
    switch (segment.kind) {
      case Segment::Kind::kMove:
        return spot(segment.to) + " m\n";
      case Segment::Kind::kLine:
        return spot(segment.to) + " l\n";
      case Segment::Kind::kCurve:
        return spot(segment.control_1) + " " + spot(segment.control_2) + " " + spot(segment.to) +
               " c\n";
      case Segment::Kind::kClose:
        return "h\n";
    }
    return {};
  }

  void text(const Run& run, double size) {
    const std::size_t index = shared_.fonts.index(run.face);
    stream_ += fmt::format("/F{} {} Tf\n", index, pdf_points(size));
    RunText shown(shared_.fonts.font(index), size);
    for (const Cluster& cluster : run.clusters) shown.add(cluster, run.right_to_left);
    stream_ += std::move(shown).finish();
  }

  Shared& shared_;
  double height_;
  std::string stream_ = "1 j\n";  // round joins
  std::string links_;
};

// "2025-03-14T10:30:00Z" as [iso2008, 7.9.4] writes it.
std::string pdf_date(std::string_view made) {
  std::string digits;
  for (const char c : made.substr(0, 19)) {  // to the second
    if (c >= '0' && c <= '9') digits += c;
  }
  return "(D:" + digits + "Z)";
}

}  // namespace

base::Result<std::string> write_pdf(const std::vector<Page>& pages, const PdfInfo& info) {
  Shared shared;
  PdfFile& file = shared.file;
  const int tree = file.reserve();
  const int resources = file.reserve();
  std::string kids;
  for (const Page& page : pages) {
    Content content(shared, page.height);
    for (const Mark& mark : page.marks) std::visit(content, mark);
    const int stream = file.add_stream("", content.stream());
    const int object = file.add(fmt::format(
        "<< /Type /Page /Parent {} /MediaBox [0 0 {} {}] /Resources {} /Contents {}{} >>",
        pdf_reference(tree),
        pdf_points(page.width),
        pdf_points(page.height),
        pdf_reference(resources),
        pdf_reference(stream),
        content.links().empty() ? "" : " /Annots [" + content.links() + "]"));
    kids += pdf_reference(object) + " ";
  }
  file.set(tree, fmt::format("<< /Type /Pages /Kids [{}] /Count {} >>", kids, pages.size()));
  TRY(const std::string fonts, shared.fonts.write(file));
  file.set(resources, fmt::format("<< /Font << {}>> /XObject << {}>> >>", fonts, shared.photos));
  const std::string language = info.language.empty() ? "" : " /Lang " + pdf_string(info.language);
  const int catalog = file.add(
      fmt::format("<< /Type /Catalog /Pages {} /ViewerPreferences << /DisplayDocTitle true >>{} >>",
                  pdf_reference(tree),
                  language));
  const std::string date = info.made.empty() ? "" : " /CreationDate " + pdf_date(info.made);
  const int about = file.add(
      fmt::format("<< /Title {} /Producer (Drawoff){} >>", pdf_text(decoded(info.title)), date));
  return file.finish({.root = catalog, .info = about});
}

}  // namespace drawoff::paper
