#include "paper/document.h"

#include <algorithm>
#include <set>
#include <utility>

#include "paper/layout.h"
#include "paper/pages.h"
#include "paper/pdf.h"

namespace drawoff::paper {
namespace {

// [mm]
constexpr double kFoot = 6;         // at least; a third of it lies below the foot's rule
constexpr double kUnprintable = 3;  // at the edge of a sheet

bool has_foot(const Document& document) {
  return !document.footer.empty() || document.page_label != nullptr;
}

// The rule, the words and the number at the foot of a page.
Piece foot_of(const Document& document, const Sheet& sheet, const PageNumber& number) {
  const Style style{.size = kSmallType, .ink = Ink::kQuiet};
  Piece foot;
  set_rule(foot, sheet, {.width = sheet.width}, {});
  double label_width = 0;
  if (document.page_label) {
    const std::string label = document.page_label(number);
    label_width = width_of(sheet.fonts, label, {.size = style.size}) + 1;
    Style end = style;
    end.align = Align::kEnd;
    set_words(foot,
              sheet,
              label,
              {.from_start = sheet.width - label_width, .top = 1, .width = label_width},
              end);
  }
  foot.height =
      1 +
      set_words(
          foot, sheet, document.footer, {.top = 1, .width = sheet.width - label_width - 6}, style);
  return foot;
}

// What the foot takes of the text's height: more where its words would leave the sheet.
double room_for(const Piece& foot, double margin) {
  const double below = kFoot / 3 + margin - kUnprintable;
  return kFoot + std::max(0.0, foot.height - below);
}

}  // namespace

base::Result<Printed> print(const Document& document, const Fonts& fonts) {
  const PageSize& size = document.page;
  const Sheet sheet{.fonts = fonts,
                    .language = document.language,
                    .right_to_left = document.right_to_left,
                    .width = size.width - 2 * size.margin};
  TRY(const std::vector<Piece> pieces, laid_out(document.blocks, sheet));
  // Wide enough for the number of any page: how many there are is known only below.
  constexpr PageNumber kMany{.page = 88, .pages = 88};
  const double foot =
      has_foot(document) ? room_for(foot_of(document, sheet, kMany), size.margin) : 0;
  std::vector<Page> pages = paginated(pieces, {.page = size, .foot = foot});
  const int count = static_cast<int>(pages.size());
  for (int i = 0; has_foot(document) && i < count; ++i) {
    Page& page = pages[static_cast<std::size_t>(i)];
    const Spot at{.x = size.margin, .y = size.height - size.margin - foot + 2 * kFoot / 3};
    for (Mark& mark : foot_of(document, sheet, {.page = i + 1, .pages = count}).marks) {
      page.marks.push_back(placed(std::move(mark), {.by = at}));
    }
  }
  std::set<std::string> missing;
  for (const Page& page : pages) {
    for (const Mark& mark : page.marks) {
      const auto* text = std::get_if<TextMark>(&mark);
      if (text != nullptr) missing.insert(text->line.missing.begin(), text->line.missing.end());
    }
  }
  TRY(std::string pdf,
      write_pdf(pages,
                {.title = document.title, .language = document.language, .made = document.made}));
  return Printed{
      .pdf = std::move(pdf), .pages = count, .missing_scripts = {missing.begin(), missing.end()}};
}

}  // namespace drawoff::paper
