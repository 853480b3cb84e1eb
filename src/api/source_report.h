// The source report: one page on a site's water. Is reverse osmosis right for it, what must stand
// in front, what will the product hold against every limit, what is the reject good for.
#pragma once

#include "api/papers.h"
#include "api/site_state.h"
#include "api/solved.h"
#include "paper/document.h"

namespace drawoff::api {

// Of substances that are well below their limits only as many are listed as the page holds.
base::Result<paper::Printed> print_source_report(const SiteState& state,
                                                 const JudgedSource& source,
                                                 const PaperOptions& options,
                                                 const messages::Catalogue& words,
                                                 const paper::Fonts& fonts);

}  // namespace drawoff::api
