// Blocks laid out to pieces of a column.
#pragma once

#include <optional>
#include <vector>

#include "base/result.h"
#include "paper/jpeg.h"
#include "paper/piece.h"

namespace drawoff::paper {

// The first error of a photo or a QR code.
base::Result<std::vector<Piece>> laid_out(const std::vector<Block>& blocks, const Sheet& sheet);

// By kind of block; layout.cc calls them. `jpegs` are those of the fields, in their order.
std::vector<Piece> lay_out(const Title& title, const Sheet& sheet);
std::vector<Piece> lay_out(const Heading& heading, const Sheet& sheet);
std::vector<Piece> lay_out(const Text& text, const Sheet& sheet);
std::vector<Piece> lay_out(const Caution& caution, const Sheet& sheet);
std::vector<Piece> lay_out(const Link& link, const Sheet& sheet);
std::vector<Piece> lay_out(const Rows& rows, const Sheet& sheet);
std::vector<Piece> lay_out(const Table& table, const Sheet& sheet);
std::vector<Piece> lay_out(const Figure& figure, const Sheet& sheet);
std::vector<Piece> lay_out(const Signatures& signatures,
                           const std::vector<std::optional<Jpeg>>& jpegs,
                           const Sheet& sheet);

// What a drawing consists of, at its own size.
std::vector<Mark> marks_of(const Drawing& drawing, const Sheet& sheet);
// A picture of some size with its words beneath, in the middle of the column.
Piece captioned(Piece picture, double width, const std::string& caption, const Sheet& sheet);

}  // namespace drawoff::paper
