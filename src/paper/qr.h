// A QR code [iso2015] as a drawing.
#pragma once

#include <string>

#include "base/result.h"
#include "paper/drawing.h"

namespace drawoff::paper {

// A square of `size` [mm], the quiet zone of four modules included, at error correction level M.
// The text is UTF-8 of at most 2,331 bytes (digits alone may be more); an error if it is longer.
base::Result<Drawing> qr_code(const std::string& text, double size);

}  // namespace drawoff::paper
