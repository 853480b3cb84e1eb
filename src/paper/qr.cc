#include "paper/qr.h"

#include <qrcodegen.h>

#include <cstdint>
#include <vector>

#include "paper/outline.h"

namespace drawoff::paper {
namespace {

constexpr int kQuietZone = 4;     // [modules] [iso2015]
constexpr int kMostBytes = 2331;  // of version 40 at level M, in bytes

}  // namespace

base::Result<Drawing> qr_code(const std::string& text, double size) {
  std::vector<std::uint8_t> code(qrcodegen_BUFFER_LEN_MAX);
  std::vector<std::uint8_t> scratch(qrcodegen_BUFFER_LEN_MAX);
  // The generator reads up to a NUL, which no address holds.
  if (!qrcodegen_encodeText(text.c_str(),
                            scratch.data(),
                            code.data(),
                            qrcodegen_Ecc_MEDIUM,
                            qrcodegen_VERSION_MIN,
                            qrcodegen_VERSION_MAX,
                            qrcodegen_Mask_AUTO,
                            true)) {
    return base::Error{base::ErrorKind::kData,
                       {"error.paper.code",
                        {{"bytes", base::Number{static_cast<double>(text.size()), "", 5}},
                         {"most", base::Number{kMostBytes, "", 4}}}}};
  }
  const int modules = qrcodegen_getSize(code.data());
  const double module = size / (modules + 2 * kQuietZone);
  const auto place = [&](int i) { return module * (i + kQuietZone); };
  Path path{.fill = Ink::kLine};
  for (int y = 0; y < modules; ++y) {
    // Neighbours in a row are one rectangle: no hairlines between them, and a smaller file.
    for (int x = 0; x < modules; ++x) {
      const int begin = x;
      while (x < modules && qrcodegen_getModule(code.data(), x, y)) ++x;
      if (x == begin) continue;
      const auto square = rectangle({.at = {.x = place(begin), .y = place(y)},
                                     .width = module * (x - begin),
                                     .height = module});
      path.segments.insert(path.segments.end(), square.begin(), square.end());
    }
  }
  return Drawing{.width = size, .height = size, .items = {std::move(path)}};
}

}  // namespace drawoff::paper
