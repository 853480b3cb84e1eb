// The PDF writer: pages of marks to the bytes of a file (PDF 1.7 [iso2008]).
//
// Text stands as glyphs of subset TrueType fonts, each with the characters that it means, so that
// it can be copied and searched in any script; photos stand as the JPEG files they are. Nothing is
// compressed: the file stays small without, and is the same in every build. Nothing in it depends
// on the time or the machine.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "paper/page.h"

namespace drawoff::paper {

struct PdfInfo {
  std::string title;
  std::string language;  // BCP 47, or empty
  std::string made;      // "2025-03-14T10:30:00Z", or empty
};

// An error if the outlines of a font that was handed in are damaged.
base::Result<std::string> write_pdf(const std::vector<Page>& pages, const PdfInfo& info);

}  // namespace drawoff::paper
