// drawoff job FILE --papers DIR: the papers of a site, written into a folder.
#pragma once

#include <string>

#include "console.h"

namespace drawoff::cli {

struct PapersWords {
  std::string folder;  // empty: none are asked for
  std::string page = "A4";
  std::string units = "metric";
  std::string address;
};

// Writes source.pdf, record.pdf, label.pdf, users.pdf, notice.pdf and water-path.svg; makes the
// folder if there is none. Says on standard output what it wrote.
Exit write_papers(const PapersWords& asked, const std::string& site_file, Console& console);

// Complains of a page or unit system that there is not.
bool is_papers(const PapersWords& asked, const Console& console);

}  // namespace drawoff::cli
