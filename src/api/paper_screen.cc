#include "api/paper_screen.h"

#include "base/base64.h"
#include "fields/quote.h"

namespace drawoff::api {

namespace {

// The fonts' bytes, which the Fonts made of them point into.
struct Decoded {
  std::string script;
  std::string regular;
  std::string bold;
};

base::Result<std::string> bytes_of(const std::string& text, const std::string& script) {
  auto bytes = base::from_base64(text);
  if (!bytes) {
    return base::Error{base::ErrorKind::kData, {"error.paper.base64", {{"script", script}}}};
  }
  return *std::move(bytes);
}

}  // namespace

base::Result<PaperOutput> ask_paper(const PaperInput& in,
                                    Working& /*working*/,
                                    const messages::Catalogue& words) {
  std::vector<Decoded> decoded;
  for (const FontInput& f : in.fonts) {
    Decoded d{.script = f.script};
    TRY(d.regular, bytes_of(f.regular, f.script));
    TRY(d.bold, bytes_of(f.bold, f.script));
    decoded.push_back(std::move(d));
  }
  std::vector<paper::ScriptFont> scripts;
  for (const Decoded& d : decoded) scripts.push_back({d.script, d.regular, d.bold});
  TRY(const paper::Fonts fonts, paper::Fonts::create(scripts));

  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_json(in.site_file.json, context));
  TRY(SiteState state, site_state(file, context));
  PaperOptions options{.paper = in.paper,
                       .page = in.page,
                       .units = in.units,
                       .language = words.language(),
                       .address = in.address,
                       .letters = in.letters,
                       .pictures = {}};
  for (const PictureInput& p : in.pictures) {
    auto jpeg = base::from_base64(p.jpeg);
    if (!jpeg) {
      return base::Error{base::ErrorKind::kData,
                         {"error.paper.picture", {{"sha256", fields::quote_text(p.sha256)}}}};
    }
    options.pictures.emplace(p.sha256, *std::move(jpeg));
  }
  const auto print = [&]() -> base::Result<Paper> {
    if (in.paper == PaperName::kSource) return print_source(state, options, fonts);
    TRY(const Solved solved, solve_for_papers(std::move(state), in.units));
    return print_paper(solved, options, fonts);
  };
  TRY(Paper printed, print());
  return PaperOutput{.name = std::move(printed.name),
                     .pdf = base::to_base64(printed.printed.pdf),
                     .pages = printed.printed.pages,
                     .missing_scripts = std::move(printed.printed.missing_scripts)};
}

}  // namespace drawoff::api
