#include "papers.h"

#include <filesystem>
#include <fstream>
#include <system_error>

#include "api/paper_screen.h"
#include "fields/quote.h"
#include "paper/script_fonts.h"

namespace drawoff::cli {

namespace {

using base::Message;

// A code of more is too fine to scan on a label.
constexpr std::size_t kLongestAddress = 200;

// The value of an enum by its name, if there is one.
template <class E>
std::optional<E> chosen(const std::string& name) {
  for (const auto& choice : fields::EnumTable<E>::list) {
    if (choice.name == name) return choice.value;
  }
  return std::nullopt;
}

bool write_file(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream file(path, std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  file.close();
  return file.good();
}

base::Result<api::SiteState> state_of(const std::string& site_file) {
  fields::ReadContext context;
  TRY(const book::SiteFile file, book::read_site_file(site_file, context));
  return api::site_state(file, context);
}

}  // namespace

bool is_papers(const PapersWords& asked, const Console& console) {
  if (!chosen<api::PageName>(asked.page)) {
    console.complain({"cli.usage.page", {{"value", fields::quote_text(asked.page)}}});
    return false;
  }
  if (asked.address.size() > kLongestAddress) {
    console.complain({"cli.usage.address"});
    return false;
  }
  if (!chosen<fields::UnitSystem>(asked.units)) {
    console.complain({"cli.usage.units", {{"value", fields::quote_text(asked.units)}}});
    return false;
  }
  return true;
}

Exit write_papers(const PapersWords& asked, const std::string& site_file, Console& console) {
  const auto state = state_of(site_file);
  if (!state) return console.refuse(state.error());
  const auto fonts = paper::Fonts::create(paper::script_fonts());
  if (!fonts) return console.refuse(fonts.error());
  api::PaperOptions options{.page = *chosen<api::PageName>(asked.page),
                            .units = *chosen<fields::UnitSystem>(asked.units),
                            .language = console.words().language(),
                            .address = asked.address};
  const std::filesystem::path folder(asked.folder);
  std::error_code failed;
  std::filesystem::create_directories(folder, failed);
  const auto write = [&](const char* name, const std::string& bytes) {
    const std::filesystem::path path = folder / name;
    if (!write_file(path, bytes)) {
      console.complain({"cli.io.folder", {{"path", fields::quote_text(path.string())}}});
      return false;
    }
    console.write(console.say(Message{"cli.papers.wrote", {{"path", path.string()}}}) + '\n');
    return true;
  };
  const auto print = [&](const base::Result<api::Paper>& printed, const char* name) {
    if (!printed) return console.refuse(printed.error());
    for (const std::string& script : printed->printed.missing_scripts) {
      console.complain({"cli.papers.script", {{"script", script}}});
    }
    return write(name, printed->printed.pdf) ? Exit::kDone : Exit::kIo;
  };
  if (const Exit done = print(api::print_source(*state, options, *fonts), "source.pdf");
      done != Exit::kDone) {
    return done;
  }
  if (!state->machine) {
    console.complain(state->warnings);
    console.complain({"cli.papers.no_machine"});
    return Exit::kDone;
  }
  const auto solved = api::solve_for_papers(*state, options.units);
  if (!solved) return console.refuse(solved.error());
  for (const auto& [paper, name] : {std::pair{api::PaperName::kRecord, "record.pdf"},
                                    std::pair{api::PaperName::kLabel, "label.pdf"},
                                    std::pair{api::PaperName::kUsers, "users.pdf"},
                                    std::pair{api::PaperName::kNotice, "notice.pdf"}}) {
    options.paper = paper;
    if (const Exit done = print(api::print_paper(*solved, options, *fonts), name);
        done != Exit::kDone) {
      return done;
    }
  }
  console.complain(state->warnings);
  return write("water-path.svg", api::draw_path(*solved, options)) ? Exit::kDone : Exit::kIo;
}

}  // namespace drawoff::cli
