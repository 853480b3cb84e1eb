#include "paper/jpeg.h"

#include <cstddef>

namespace drawoff::paper {
namespace {

// Markers of [itu1992, table B.1] (from memory).
constexpr int kStartOfImage = 0xD8;
constexpr int kEndOfImage = 0xD9;
constexpr int kStartOfScan = 0xDA;
constexpr int kBaseline = 0xC0;
constexpr int kProgressive = 0xC2;
constexpr int kHuffmanTable = 0xC4;
constexpr int kReserved = 0xC8;
constexpr int kArithmeticTable = 0xCC;
constexpr int kLastFrame = 0xCF;

bool is_frame(int marker) {
  return marker >= kBaseline && marker <= kLastFrame && marker != kHuffmanTable &&
         marker != kReserved && marker != kArithmeticTable;
}

}  // namespace

std::optional<Jpeg> read_jpeg(std::string_view bytes) {
  const auto byte = [&](std::size_t at) {
    return static_cast<int>(static_cast<unsigned char>(bytes[at]));
  };
  const auto word = [&](std::size_t at) { return byte(at) << 8 | byte(at + 1); };
  if (bytes.size() < 4 || word(0) != (0xFF00 | kStartOfImage)) return std::nullopt;
  Jpeg jpeg;
  // Segments: FF, marker, length (with its own two bytes), content.
  for (std::size_t at = 2; at + 4 <= bytes.size();) {
    if (byte(at) != 0xFF) return std::nullopt;
    const int marker = byte(at + 1);
    if (marker == 0xFF) {  // fill bytes
      ++at;
      continue;
    }
    const auto length = static_cast<std::size_t>(word(at + 2));
    if (length < 2 || at + 2 + length > bytes.size()) return std::nullopt;
    if (is_frame(marker)) {
      if (marker > kProgressive || length < 8 || byte(at + 4) != 8) return std::nullopt;
      jpeg.height = word(at + 5);
      jpeg.width = word(at + 7);
      jpeg.components = byte(at + 9);
    }
    if (marker == kStartOfScan) {
      // The coded picture follows; a file that was cut short has no end.
      const std::size_t end = bytes.find_last_not_of('\0');
      const bool whole = end >= at + 2 + length + 1 && word(end - 1) == (0xFF00 | kEndOfImage);
      const bool known = jpeg.components == 1 || jpeg.components == 3;
      if (!whole || !known || jpeg.width < 1 || jpeg.height < 1) return std::nullopt;
      jpeg.bytes = bytes;
      return jpeg;
    }
    at += 2 + length;
  }
  return std::nullopt;
}

}  // namespace drawoff::paper
