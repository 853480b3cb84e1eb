#include "sign.h"

#include <fmt/chrono.h>

#include <ctime>
#include <filesystem>
#include <optional>
#include <system_error>
#include <utility>

#include "base/hex.h"
#include "book/signature.h"
#include "fields/quote.h"

namespace drawoff::cli {

book::UtcTime now() {
  return {fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(std::time(nullptr)))};
}

namespace {

// Others on this computer must not be able to sign in its owner's name.
bool is_private(const std::string& name) {
  std::error_code failed;
  const auto allowed = std::filesystem::status(name, failed).permissions();
  constexpr auto kOthers = std::filesystem::perms::group_all | std::filesystem::perms::others_all;
  return failed || (allowed & kOthers) == std::filesystem::perms::none;
}

}  // namespace

std::optional<Exit> read_key(const std::string& name,
                             const Console& console,
                             std::optional<keys::PrivateKey>& into) {
  if (!is_private(name)) {
    console.complain({"sign.key_open", {{"file", fields::quote_text(name)}}});
    return Exit::kData;
  }
  Console::Input input = console.read(name);
  if (input.failed) return input.failed;
  into = keys::PrivateKey::from_pem(input.text);
  keys::wipe(input.text);
  if (into) return std::nullopt;
  console.complain({"sign.key", {{"file", fields::quote_text(name)}}});
  return Exit::kData;
}

base::Result<std::string> signed_record(const keys::PrivateKey& key,
                                        const book::Claims& claims,
                                        const book::SiteFile& site,
                                        std::vector<book::Attachment> attachments) {
  std::string covered = book::text_to_sign(claims, key.public_key(), site, std::move(attachments));
  const std::string signature = key.sign(covered);
  std::string record = book::with_signature(std::move(covered), signature);
  // What was typed is checked by the rules of reading.
  fields::ReadContext context;
  TRY([[maybe_unused]] const auto read, book::read_record(record, context));
  return record;
}

book::Claims claims_of(const std::string& by, const std::string& at) {
  return {.signed_by = by, .at = at.empty() ? now() : book::UtcTime{at}};
}

Exit run_sign(const SignWords& asked, Console& console) {
  const Console::Input input = console.read(asked.file);
  if (input.failed) return *input.failed;
  fields::ReadContext context;
  const auto site = book::read_site_file(input.text, context);
  if (!site) return console.refuse(site.error());
  std::optional<keys::PrivateKey> key;
  if (const auto failed = read_key(asked.key, console, key)) return *failed;
  std::vector<book::Attachment> attachments = book::photos_of(*site);
  for (const std::string& name : asked.attach) {
    const Console::Input attached = console.read(name);
    if (attached.failed) return *attached.failed;
    attachments.push_back({.sha256 = base::to_hex(keys::sha256(attached.text)),
                           .name = std::filesystem::path(name).filename().string()});
  }
  const auto record =
      signed_record(*key, claims_of(asked.by, asked.at), *site, std::move(attachments));
  if (!record) return console.refuse(record.error());
  console.write(*record);
  console.complain(context.warnings);
  return Exit::kDone;
}

}  // namespace drawoff::cli
