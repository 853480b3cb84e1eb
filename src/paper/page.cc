#include "paper/page.h"

#include <utility>

namespace drawoff::paper {
namespace {

struct Place {
  const Placement& to;

  Spot operator()(const Spot& spot) const {
    return {.x = to.scale * spot.x + to.by.x, .y = to.scale * spot.y + to.by.y};
  }
  void operator()(TextMark& mark) const {
    mark.at = (*this)(mark.at);
    mark.size *= to.scale;
  }
  void operator()(PathMark& mark) const {
    for (Segment& segment : mark.segments) {
      segment.to = (*this)(segment.to);
      segment.control_1 = (*this)(segment.control_1);
      segment.control_2 = (*this)(segment.control_2);
    }
    mark.width *= to.scale;
  }
  void operator()(PhotoMark& mark) const { area(mark); }
  void operator()(LinkMark& mark) const { area(mark); }

 private:
  template <class T>
  void area(T& mark) const {
    mark.at = (*this)(mark.at);
    mark.width *= to.scale;
    mark.height *= to.scale;
  }
};

}  // namespace

Mark placed(Mark mark, const Placement& placement) {
  std::visit(Place{placement}, mark);
  return mark;
}

}  // namespace drawoff::paper
