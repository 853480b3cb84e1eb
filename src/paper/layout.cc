#include "paper/layout.h"

#include <algorithm>
#include <utility>

#include "paper/jpeg.h"
#include "paper/qr.h"

namespace drawoff::paper {
namespace {

constexpr double kBetweenSides = 7;

using Pieces = base::Result<std::vector<Piece>>;

class Layout {
 public:
  explicit Layout(const Sheet& sheet) : sheet_(sheet) {}

  Pieces stack(const std::vector<Block>& blocks) {
    std::vector<Piece> pieces;
    for (const Block& block : blocks) {
      TRY(std::vector<Piece> more, std::visit(*this, block.is));
      std::move(more.begin(), more.end(), std::back_inserter(pieces));
    }
    return pieces;
  }

  // Those that cannot fail.
  template <class T>
  Pieces operator()(const T& block) {
    return lay_out(block, sheet_);
  }

  Pieces operator()(const Space& space) { return std::vector{Piece{.height = space.height}}; }

  Pieces operator()(const Photo& photo) {
    TRY(Jpeg jpeg, picture(photo.jpeg));
    const double width = photo.width > 0 ? std::min(photo.width, sheet_.width) : sheet_.width;
    Piece piece{.before = 3.5, .height = width * jpeg.height / jpeg.width};
    piece.marks.push_back(
        PhotoMark{.width = width, .height = piece.height, .jpeg = std::move(jpeg)});
    return std::vector{captioned(std::move(piece), width, photo.caption, sheet_)};
  }

  Pieces operator()(const Signatures& signatures) {
    std::vector<std::optional<Jpeg>> jpegs;
    for (const Field& field : signatures.fields) {
      std::optional<Jpeg>& jpeg = jpegs.emplace_back();
      if (field.jpeg.empty()) continue;
      TRY(jpeg, picture(field.jpeg));
    }
    return lay_out(signatures, jpegs, sheet_);
  }

  Pieces operator()(const Code& code) {
    const double size = std::min(code.size, sheet_.width);
    TRY(const Drawing drawing, qr_code(code.text, size));
    Piece piece{.before = 2.5, .height = size, .marks = marks_of(drawing, sheet_)};
    Slot slot{.width = size};
    if (code.align == Align::kMiddle) slot.from_start = (sheet_.width - size) / 2;
    if (code.align == Align::kEnd) slot.from_start = sheet_.width - size;
    const double left = left_of(sheet_, slot);
    for (Mark& mark : piece.marks) mark = placed(std::move(mark), {.by = {.x = left}});
    return std::vector{std::move(piece)};
  }

  Pieces operator()(const Beside& beside) {
    const Sheet whole = sheet_;
    double shares = 0;
    for (const Side& side : beside.sides) shares += side.share;
    const double gaps = kBetweenSides * (static_cast<double>(beside.sides.size()) - 1);
    const double room = std::max(whole.width - gaps, 1.0);
    Piece all{.before = 3};
    Slot slot;
    for (const Side& side : beside.sides) {
      slot.width = room * side.share / shares;
      Layout inside(whole.of_width(slot.width));
      inside.photos_ = photos_;
      TRY(const std::vector<Piece> pieces, inside.stack(side.blocks));
      photos_ = inside.photos_;
      Piece stacked = joined(pieces);
      const double left = left_of(whole, slot);
      for (Mark& mark : stacked.marks) {
        all.marks.push_back(placed(std::move(mark), {.by = {.x = left}}));
      }
      all.height = std::max(all.height, stacked.height);
      slot.from_start += slot.width + kBetweenSides;
    }
    return std::vector{std::move(all)};
  }

  Pieces operator()(const Together& together) {
    TRY(std::vector<Piece> pieces, stack(together.blocks));
    for (std::size_t i = 0; i + 1 < pieces.size(); ++i) pieces[i].with_next = true;
    return pieces;
  }

 private:
  base::Result<Jpeg> picture(const std::string& bytes) {
    ++photos_;
    std::optional<Jpeg> jpeg = read_jpeg(bytes);
    if (jpeg) return *std::move(jpeg);
    return base::Error{
        base::ErrorKind::kData,
        {"error.paper.photo", {{"number", base::Number{static_cast<double>(photos_), "", 3}}}}};
  }

  Sheet sheet_;
  int photos_ = 0;  // seen so far
};

}  // namespace

base::Result<std::vector<Piece>> laid_out(const std::vector<Block>& blocks, const Sheet& sheet) {
  return Layout(sheet).stack(blocks);
}

}  // namespace drawoff::paper
