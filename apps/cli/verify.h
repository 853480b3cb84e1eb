// drawoff verify FILE: whether the signature of a record holds, offline.
#pragma once

#include <string>

#include "console.h"

namespace drawoff::cli {

struct VerifyWords {
  std::string file;
  std::string attachments;  // a folder, or empty: none are looked at
  std::string fingerprint;  // what the key's must be, or empty
  bool json = false;
};

// Says on standard output what was found: kDone when the signature holds, kDoesNotHold when it or
// an attachment's hash does not, or the key is another than the one named.
Exit run_verify(const VerifyWords& asked, Console& console);

}  // namespace drawoff::cli
