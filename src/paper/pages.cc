#include "paper/pages.h"

#include <cstddef>

#include "base/check.h"

namespace drawoff::paper {
namespace {

class Filling {
 public:
  explicit Filling(const Area& area)
      : area_(area),
        top_(area.page.margin),
        room_(area.page.height - 2 * area.page.margin - area.foot) {
    CHECK(room_ > 0 && area.page.width > 2 * area.page.margin);
    turn();
  }

  double room() const { return room_; }
  bool fits(double height) const { return used_ + height <= room_ + kTolerance; }
  bool fresh() const { return used_ == 0; }

  void turn() {
    pages_.push_back({.width = area_.page.width, .height = area_.page.height});
    used_ = 0;
  }

  void put(const Piece& piece) {
    if (!fresh()) used_ += piece.before;
    const double scale = piece.height > room_ ? room_ / piece.height : 1;
    const double width = area_.page.width - 2 * area_.page.margin;
    const Spot by{.x = area_.page.margin + width * (1 - scale) / 2, .y = top_ + used_};
    for (const Mark& mark : piece.marks) {
      pages_.back().marks.push_back(placed(mark, {.scale = scale, .by = by}));
    }
    used_ += piece.height * scale;
  }

  std::vector<Page> finish() && { return std::move(pages_); }

 private:
  static constexpr double kTolerance = 1e-6;  // of sums of lengths [mm]

  Area area_;
  double top_;
  double room_;
  double used_ = 0;
  std::vector<Page> pages_;
};

}  // namespace

std::vector<Page> paginated(const std::vector<Piece>& pieces, const Area& area) {
  Filling filling(area);
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const Piece& piece = pieces[i];
    // The height of what has to stay together, from here on.
    double together = piece.height;
    for (std::size_t k = i; pieces[k].with_next && k + 1 < pieces.size(); ++k) {
      together += pieces[k + 1].before + pieces[k + 1].height;
    }
    const double wanted = together <= filling.room() ? together : piece.height;
    if (!filling.fresh() && !filling.fits(piece.before + wanted)) {
      filling.turn();
      if (piece.head != nullptr && piece.head->height + piece.height <= filling.room()) {
        filling.put(*piece.head);
      }
    }
    filling.put(piece);
  }
  return std::move(filling).finish();
}

}  // namespace drawoff::paper
