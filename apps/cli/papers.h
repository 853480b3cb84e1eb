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
  std::string language;  // empty: the site's, or else English
  std::string pictures;  // folder of photos and drawn signatures, found by their hash
  std::string key;       // a PEM file; empty: nothing is signed
  std::string by;        // who says that they sign
  std::string at;        // UTC, or empty: now
  std::string firm;      // whom to call: before what the hand-over says
  std::string telephone;
  std::string next_visit;
};

// In the language asked for, or else that of those who get the site's papers: writes source.pdf,
// record.pdf, label.pdf, users.pdf, notice.pdf and water-path.svg, and with a key signed.record
// over the entries, their pictures and these papers, and the pictures beside it; makes the folder
// if there is none. Says on standard output what it wrote.
Exit write_papers(const PapersWords& asked, const std::string& site_file, Console& console);

// Complains of a page or unit system that there is not, of a key without a name, and of a telephone
// or a date that is none.
bool is_papers(const PapersWords& asked, const Console& console);

}  // namespace drawoff::cli
