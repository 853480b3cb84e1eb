// The source report: one page on a site's water. Is reverse osmosis right for it, what must stand
// in front, what will the product hold against every limit, what is the reject good for.
#pragma once

#include "api/papers.h"
#include "api/site_state.h"
#include "api/solved.h"
#include "paper/document.h"

namespace drawoff::api {

paper::Document source_report(const SiteState& state,
                              const JudgedSource& source,
                              const PaperOptions& options,
                              const messages::Catalogue& words);

}  // namespace drawoff::api
