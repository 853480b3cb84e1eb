// drawoff sign SITE --key KEY: a signed record of a site, for scripts and tests; the app makes its
// own.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/signature.h"
#include "console.h"
#include "keys/ed25519.h"

namespace drawoff::cli {

struct SignWords {
  std::string file;
  std::string key;                  // a PEM file that only its owner may read
  std::string by;                   // who says that they sign
  std::string at;                   // UTC, or empty: now
  std::vector<std::string> attach;  // files that belong to the record, beside its photos
};

// Writes the record on standard output.
Exit run_sign(const SignWords& asked, Console& console);

// By this computer's clock.
book::UtcTime now();
// A key from a PEM file that nobody else on this computer may read. Complains and gives the status
// if it is not one.
std::optional<Exit> read_key(const std::string& name,
                             const Console& console,
                             std::optional<keys::PrivateKey>& into);
// Now where `at` is empty.
book::Claims claims_of(const std::string& by, const std::string& at);
// The error says what of the claims cannot stand in a record.
base::Result<std::string> signed_record(const keys::PrivateKey& key,
                                        const book::Claims& claims,
                                        const book::SiteFile& site,
                                        std::vector<book::Attachment> attachments);

}  // namespace drawoff::cli
