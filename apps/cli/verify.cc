#include "verify.h"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <optional>
#include <string_view>
#include <vector>

#include "base/hex.h"
#include "book/fold.h"
#include "book/signature.h"
#include "fields/errors.h"
#include "fields/quote.h"
#include "hashed_folder.h"
#include "keys/ed25519.h"

namespace drawoff::cli {

namespace {

using base::Message;
using fields::Json;

enum class Found { kSame, kChanged, kNotThere };

struct Checked {
  const book::Attachment* attachment = nullptr;
  Found found = Found::kNotThere;
};

struct Verdict {
  bool holds = false;  // the signature over the record
  bool other_key = false;
  std::string fingerprint;
  std::vector<Checked> attachments;    // none if no folder was given
  std::vector<std::string> strangers;  // files of the folder that the record does not have

  std::size_t count(Found found) const {
    return static_cast<std::size_t>(
        std::count_if(attachments.begin(), attachments.end(), [found](const Checked& checked) {
          return checked.found == found;
        }));
  }
  bool good() const { return holds && !other_key && count(Found::kChanged) == 0; }
};

bool goes_by(const std::string& name, const book::Attachment& attachment) {
  return name == attachment.name ||
         std::filesystem::path(name).stem().string() == attachment.sha256;
}

// By its hash, whatever it is called now; else what stands under its name is another file.
Found look_for(const book::Attachment& attachment, const HashedFolder& folder) {
  if (folder.name_of.count(attachment.sha256) > 0) return Found::kSame;
  const bool changed =
      std::any_of(folder.sha256_of.begin(), folder.sha256_of.end(), [&](const auto& file) {
        return goes_by(file.first, attachment);
      });
  return changed ? Found::kChanged : Found::kNotThere;
}

// `own` is the hash of the record's file: it may lie in the folder too.
void look_at_folder(const book::Record& record,
                    const HashedFolder& folder,
                    const std::string& own,
                    Verdict& verdict) {
  for (const book::Attachment& attachment : record.attachments) {
    verdict.attachments.push_back({&attachment, look_for(attachment, folder)});
  }
  for (const auto& file : folder.sha256_of) {
    const std::string& name = file.first;
    const std::string& sha256 = file.second;
    // One that was changed is told of already.
    const bool listed =
        std::any_of(verdict.attachments.begin(), verdict.attachments.end(), [&](const Checked& c) {
          return c.attachment->sha256 == sha256 ||
                 (c.found == Found::kChanged && goes_by(name, *c.attachment));
        });
    if (!listed && sha256 != own) verdict.strangers.push_back(name);
  }
}

std::string name_of(const book::Attachment& attachment) {
  return attachment.name ? fields::one_line(*attachment.name) : attachment.sha256;
}

const char* word_of(Found found) {
  return found == Found::kSame ? "same" : found == Found::kChanged ? "changed" : "not_there";
}

// What the record calls its site; empty where it has no name that can be read.
std::string site_name_of(const book::Record& record) {
  fields::ReadContext context;
  const auto site = book::site_of(record, context);
  if (!site) return {};
  const auto named = book::fold(*site).site;
  const auto name = named ? named->body.find("name") : Json::const_iterator();
  return named && name != named->body.end() && name->is_string()
             ? fields::one_line(name->get<std::string>())
             : std::string();
}

base::Argument number(std::size_t count) {
  return fields::given_number(static_cast<double>(count), nullptr);
}

// The one sentence that matters most.
Message sentence_of(const Verdict& verdict) {
  const std::size_t changed = verdict.count(Found::kChanged);
  if (verdict.holds && !verdict.other_key && changed > 0) {
    return {"verify.attachment_changed", {{"count", number(changed)}}};
  }
  return {!verdict.holds      ? "verify.changed"
          : verdict.other_key ? "verify.other_key"
                              : "verify.holds",
          {{"fingerprint", verdict.fingerprint}}};
}

Json json_of(const book::Record& record,
             const Verdict& verdict,
             bool restored,
             const Console& console) {
  Json out{{"holds", verdict.good()}};
  if (!verdict.good()) out["because"] = console.say(sentence_of(verdict));
  out.update({{"signature_holds", verdict.holds},
              {"restored", restored},
              {"fingerprint", verdict.fingerprint},
              {"key", record.head.key},
              {"signed_by", record.head.signed_by},
              {"at", record.head.at.text},
              {"entries", record.entries.size()},
              {"attachments", Json::array()}});
  for (std::size_t i = 0; i < record.attachments.size(); ++i) {
    const book::Attachment& attachment = record.attachments[i];
    Json one{{"sha256", attachment.sha256}};
    if (attachment.name) one["name"] = *attachment.name;
    one["found"] =
        verdict.attachments.empty() ? "not_looked" : word_of(verdict.attachments[i].found);
    out["attachments"].push_back(std::move(one));
  }
  out["not_in_record"] = verdict.strangers;
  return out;
}

std::string words_of(const book::Record& record,
                     const Verdict& verdict,
                     bool looked,
                     bool restored,
                     const Console& console) {
  const Layout& layout = console.layout();
  const auto say = [&](const Message& message) { return layout.wrap(console.say(message)); };
  std::string out = say(sentence_of(verdict));
  if (!verdict.holds) return out;
  if (restored) out += say({"verify.line_ends"});
  out += '\n';
  out += layout.rows(
      {{console.say("verify.row.site"), site_name_of(record)},
       {console.say("verify.row.key"), verdict.fingerprint},
       {console.say("verify.row.signed_by"),
        console.say(
            Message{"verify.claim.name", {{"name", fields::one_line(record.head.signed_by)}}})},
       {console.say("verify.row.at"),
        console.say(Message{"verify.claim.at", {{"at", record.head.at.text}}})},
       {console.say("verify.row.entries"),
        console.say(Message{"verify.count", {{"count", number(record.entries.size())}}})},
       {console.say("verify.row.attachments"),
        console.say(Message{"verify.found",
                            {{"looked",
                              record.attachments.empty() ? "none"
                              : looked                   ? "yes"
                                                         : "no"},
                             {"count", number(record.attachments.size())},
                             {"same", number(verdict.count(Found::kSame))},
                             {"changed", number(verdict.count(Found::kChanged))},
                             {"not_there", number(verdict.count(Found::kNotThere))}}})}},
      2);
  for (const Checked& checked : verdict.attachments) {
    if (checked.found == Found::kSame) continue;
    out += layout.wrap(console.say(Message{"verify.attachment",
                                           {{"found", word_of(checked.found)},
                                            {"name", name_of(*checked.attachment)}}}),
                       {.first = 2, .rest = 4});
  }
  for (const std::string& name : verdict.strangers) {
    out += layout.wrap(console.say(Message{"verify.stranger", {{"name", fields::one_line(name)}}}),
                       {.first = 2, .rest = 4});
  }
  out += '\n';
  out += say({"verify.proves"});
  return out + say({"verify.does_not"});
}

// As people copy it: without regard to case, spaces and hyphens.
std::string letters_of(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '-' || c == ' ') continue;
    out += static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  }
  return out;
}

}  // namespace

Exit run_verify(const VerifyWords& asked, Console& console) {
  const Console::Input input = console.read(asked.file);
  if (input.failed) return *input.failed;
  constexpr std::string_view kZip = "PK\x03\x04";
  if (std::string_view(input.text).substr(0, kZip.size()) == kZip) {
    return console.refuse(
        {base::ErrorKind::kData, {"verify.zip", {{"path", fields::quote_text(asked.file)}}}});
  }
  const auto restored = book::as_sent(input.text);
  const std::string_view text = restored ? *restored : input.text;
  fields::ReadContext context;
  const auto record = book::read_record(text, context);
  if (!record) {
    // It is a record, but no longer as it was signed: a verdict and no fault of the question.
    if (!book::is_record(text)) return console.refuse(record.error());
    const std::string because = console.say(record.error().message);
    console.write(asked.json ? fields::dump(Json{{"holds", false}, {"because", because}}, 2) + '\n'
                             : console.layout().wrap(because));
    return Exit::kDoesNotHold;
  }

  Verdict verdict{.holds = keys::holds(record->covered, record->signature, record->key),
                  .fingerprint = book::fingerprint(keys::sha256(record->key))};
  verdict.other_key = !asked.fingerprint.empty() &&
                      letters_of(asked.fingerprint) != letters_of(verdict.fingerprint);
  if (verdict.holds) {
    const auto site = book::site_of(*record, context);
    if (!site) return console.refuse(site.error());
  }
  const bool looked = !asked.attachments.empty();
  if (verdict.holds && looked) {
    HashedFolder folder;
    if (const auto failed = read_folder(asked.attachments, console, folder)) return *failed;
    look_at_folder(*record, folder, base::to_hex(keys::sha256(input.text)), verdict);
  }
  console.write(
      asked.json ? fields::dump(json_of(*record, verdict, restored.has_value(), console), 2) + '\n'
                 : words_of(*record, verdict, looked, restored.has_value(), console));
  console.complain(context.warnings);
  return verdict.good() ? Exit::kDone : Exit::kDoesNotHold;
}

}  // namespace drawoff::cli
