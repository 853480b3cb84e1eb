// Papers: what a site's state looks like on a page that is handed over.
//
//   record   the commissioning record: site, water, machine, the water path with its readings, how
//            it should run against what was read, the steps of the start-up if one was recorded,
//            cautions, room for signatures; one page where it fits
//   source   one page on the water alone (source_report.h), also before there is a machine
//   label    for the machine itself: what it is, its first-day values, a code to scan
//   users    for the people who drink from it, and notice for its tap (handover.h)
//
// The same entries give the same bytes on a phone and from the command.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "api/handing_over.h"
#include "api/solved.h"
#include "base/result.h"
#include "fields/form.h"
#include "messages/catalogue.h"
#include "paper/document.h"

namespace drawoff::api {

enum class PaperName { kRecord, kLabel, kSource, kUsers, kNotice };
enum class PageName { kA4, kLetter };

struct PaperOptions {
  PaperName paper = PaperName::kRecord;
  PageName page = PageName::kA4;  // of the record; a label has its own size
  fields::UnitSystem units = fields::UnitSystem::kMetric;
  std::string language = "en";
  // Where the app is served: the label's code then opens this machine there. Without it the code
  // holds the machine's id alone, as a urn:uuid [rfc9562].
  std::string address;
  // The letters of the key that signs the record (book/signature.h), where one does: they stand on
  // the record and in its code and the label's.
  std::string letters;
  // Whom to call, before what the hand-over says.
  Call call = {};
  // Photos and drawn signatures, JPEG files, by their SHA-256 in hexadecimal. Those that are not
  // there are left out.
  std::map<std::string, std::string> pictures;
};

struct Paper {
  std::string name;  // of its file: "Ostrel school - Commissioning record.pdf"
  paper::Printed printed;
};

// A site solved so that every paper can be made of it. The error says what of site, survey and
// machine is missing.
base::Result<Solved> solve_for_papers(SiteState state, fields::UnitSystem units);

// All but the source report, of a site that was solved for papers, in the units of the options.
base::Result<Paper> print_paper(const Solved& solved,
                                const PaperOptions& options,
                                const paper::Fonts& fonts);
// The source report of a site with a survey, whether it has a machine or not.
base::Result<Paper> print_source(const SiteState& state,
                                 const PaperOptions& options,
                                 const paper::Fonts& fonts);
// What stands at the foot of a page: a line more where no native speaker has read the words yet.
std::string foot(std::string text, const messages::Catalogue& words);
// The water path with its words, as an SVG file.
std::string draw_path(const Solved& solved, const PaperOptions& options);

}  // namespace drawoff::api
