// Papers: what a site's state looks like on a page that is handed over.
//
//   record   the commissioning record: site, water, machine, the water path with its readings, how
//            it should run against what was read, cautions, room for signatures; one page where it
//            fits
//   label    for the machine itself: what it is, its first-day values, a code to scan
//
// The same entries give the same bytes on a phone and from the command.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "api/solved.h"
#include "base/result.h"
#include "fields/form.h"
#include "paper/document.h"

namespace drawoff::api {

enum class PaperName { kRecord, kLabel };
enum class PageName { kA4, kLetter };

struct PaperOptions {
  PaperName paper = PaperName::kRecord;
  PageName page = PageName::kA4;  // of the record; a label has its own size
  fields::UnitSystem units = fields::UnitSystem::kMetric;
  std::string language = "en";
  // Where the app is served: the label's code then opens this machine there. Without it the code
  // holds the machine's id alone, as a urn:uuid [rfc9562].
  std::string address;
};

struct Paper {
  std::string name;  // of its file: "Ostrel school - commissioning record.pdf"
  paper::Printed printed;
  std::vector<base::Message> warnings;
};

// The state must have site, survey and machine: the error says which is missing.
base::Result<Paper> print_paper(SiteState state,
                                const PaperOptions& options,
                                const paper::Fonts& fonts);

// A site's water path with its words, for an SVG file.
base::Result<std::string> draw_path(SiteState state, const PaperOptions& options);

}  // namespace drawoff::api
