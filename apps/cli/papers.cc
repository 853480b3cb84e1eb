#include "papers.h"

#include <filesystem>
#include <fstream>
#include <map>
#include <optional>
#include <system_error>
#include <vector>

#include "api/paper_screen.h"
#include "base/hex.h"
#include "fields/quote.h"
#include "hashed_folder.h"
#include "paper/script_fonts.h"
#include "sign.h"
#include "visit/date.h"

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

std::string language_of(const PapersWords& asked, const api::SiteState& state) {
  if (!asked.language.empty()) return asked.language;
  const auto language = state.site ? state.site->body.language : std::nullopt;
  return std::string(language ? fields::name_of(*language) : "en");
}

bool write_file(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream file(path, std::ios::binary);
  file.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  file.close();
  return file.good();
}

// The pictures that count, as far as the folder has them: photos that were taken back and
// signatures of an earlier hand-over are nobody's to hand on.
std::optional<Exit> read_pictures(const std::string& folder,
                                  const api::SiteState& state,
                                  const Console& console,
                                  std::map<std::string, std::string>& into) {
  HashedFolder files;
  if (const auto failed = read_folder(folder, console, files)) return failed;
  std::vector<std::string> wanted;
  for (const auto& photo : state.photos) wanted.push_back(photo.body.sha256);
  if (state.handed_over) {
    wanted.push_back(state.handed_over->body.technician_signature);
    wanted.push_back(state.handed_over->body.receiver_signature);
  }
  for (const std::string& sha256 : wanted) {
    const auto name = files.name_of.find(sha256);
    if (name == files.name_of.end()) continue;
    Console::Input input = console.read((std::filesystem::path(folder) / name->second).string());
    if (input.failed) return input.failed;
    into.emplace(sha256, std::move(input.text));
  }
  return std::nullopt;
}

// Writes the papers one by one; remembers what a record has to name.
class Desk {
 public:
  Desk(const std::string& folder, Console& console) : folder_(folder), console_(console) {
    std::error_code failed;  // told by the first file that cannot be written
    std::filesystem::create_directories(folder_, failed);
  }

  bool write(const std::string& name, const std::string& bytes) {
    const std::filesystem::path path = folder_ / name;
    if (!write_file(path, bytes)) {
      console_.complain({"cli.io.folder", {{"path", fields::quote_text(path.string())}}});
      return false;
    }
    console_.write(console_.say(Message{"cli.papers.wrote", {{"path", path.string()}}}) + '\n');
    return true;
  }

  Exit print(const base::Result<api::Paper>& printed, const char* name) {
    if (!printed) return console_.refuse(printed.error());
    for (const std::string& script : printed->printed.missing_scripts) {
      console_.complain({"cli.papers.script", {{"script", script}}});
    }
    return attach(name, printed->printed.pdf) ? Exit::kDone : Exit::kIo;
  }

  // Writes a paper that the record will name.
  bool attach(const char* name, const std::string& bytes) {
    written_.push_back({.sha256 = base::to_hex(keys::sha256(bytes)), .name = name});
    return write(name, bytes);
  }

  const std::vector<book::Attachment>& written() const { return written_; }

 private:
  std::filesystem::path folder_;
  Console& console_;
  std::vector<book::Attachment> written_;
};

Exit sign(const PapersWords& asked,
          const keys::PrivateKey& key,
          const book::SiteFile& site,
          const std::map<std::string, std::string>& pictures,
          Desk& desk,
          const Console& console) {
  std::vector<book::Attachment> attachments = book::photos_of(site);
  attachments.insert(attachments.end(), desk.written().begin(), desk.written().end());
  const auto record =
      signed_record(key, claims_of(asked.by, asked.at), site, std::move(attachments));
  if (!record) return console.refuse(record.error());
  // So that the folder holds all that the record names.
  for (const auto& [sha256, jpeg] : pictures) {
    if (!desk.write(sha256 + ".jpg", jpeg)) return Exit::kIo;
  }
  return desk.write("signed.record", *record) ? Exit::kDone : Exit::kIo;
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
  const auto longer = [](const std::string& text, double most) {
    return static_cast<double>(fields::utf8_count(text)) > most;
  };
  if (longer(asked.firm, book::kLongestFirm)) {
    console.complain({"cli.usage.firm"});
    return false;
  }
  if (!book::is_telephone(asked.telephone) || longer(asked.telephone, book::kLongestTelephone)) {
    console.complain({"cli.usage.telephone", {{"value", fields::quote_text(asked.telephone)}}});
    return false;
  }
  if (!asked.next_visit.empty() && !visit::is_date(asked.next_visit)) {
    console.complain({"cli.usage.next_visit", {{"value", fields::quote_text(asked.next_visit)}}});
    return false;
  }
  if (const std::string today = now().text;
      asked.next_visit < today.substr(0, asked.next_visit.size())) {
    console.complain(
        {"cli.usage.next_visit_past", {{"value", fields::quote_text(asked.next_visit)}}});
    return false;
  }
  if (asked.key.empty() != asked.by.empty()) {
    console.complain({"cli.usage.key_and_name"});
    return false;
  }
  return true;
}

Exit write_papers(const PapersWords& asked, const std::string& site_file, Console& console) {
  fields::ReadContext context;
  const auto file = book::read_site_file(site_file, context);
  if (!file) return console.refuse(file.error());
  const auto state = api::site_state(*file, context);
  if (!state) return console.refuse(state.error());
  const auto fonts = paper::Fonts::create(paper::script_fonts());
  if (!fonts) return console.refuse(fonts.error());
  api::PaperOptions options{
      .page = *chosen<api::PageName>(asked.page),
      .units = *chosen<fields::UnitSystem>(asked.units),
      .language = language_of(asked, *state),
      .address = asked.address,
      .call = {.who = asked.firm, .telephone = asked.telephone, .next_visit = asked.next_visit}};
  if (!asked.pictures.empty()) {
    if (const auto failed = read_pictures(asked.pictures, *state, console, options.pictures)) {
      return *failed;
    }
  }
  std::optional<keys::PrivateKey> key;
  if (!asked.key.empty()) {
    if (const auto failed = read_key(asked.key, console, key)) return *failed;
    options.letters = book::fingerprint(keys::sha256(key->public_key()));
  }
  Desk desk(asked.folder, console);
  if (const Exit done = desk.print(api::print_source(*state, options, *fonts), "source.pdf");
      done != Exit::kDone) {
    return done;
  }
  if (!state->machine) {
    console.complain(state->warnings);
    console.complain({"cli.papers.no_machine"});
    return key ? sign(asked, *key, *file, options.pictures, desk, console) : Exit::kDone;
  }
  const auto solved = api::solve_for_papers(*state, options.units);
  if (!solved) return console.refuse(solved.error());
  for (const auto& [paper, name] : {std::pair{api::PaperName::kRecord, "record.pdf"},
                                    std::pair{api::PaperName::kLabel, "label.pdf"},
                                    std::pair{api::PaperName::kUsers, "users.pdf"},
                                    std::pair{api::PaperName::kNotice, "notice.pdf"}}) {
    options.paper = paper;
    if (const Exit done = desk.print(api::print_paper(*solved, options, *fonts), name);
        done != Exit::kDone) {
      return done;
    }
  }
  console.complain(state->warnings);
  if (!desk.attach("water-path.svg", api::draw_path(*solved, options))) return Exit::kIo;
  return key ? sign(asked, *key, *file, options.pictures, desk, console) : Exit::kDone;
}

}  // namespace drawoff::cli
