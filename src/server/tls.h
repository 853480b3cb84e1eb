// The certificate and key with which this computer proves to a phone that it is itself.
#pragma once

#include <memory>
#include <string>

#include "base/result.h"

namespace boost::asio::ssl {
class context;
}

namespace drawoff::server {

// The text of a file in PEM form, and its name for the sentence if it is at fault.
struct PemFile {
  std::string name;
  std::string text;
};

struct TlsFiles {
  PemFile certificates;  // this computer's first, then those that vouch for it
  PemFile key;           // without a password
};

// Settings for serving by TLS 1.2 or newer.
using TlsContext = std::shared_ptr<boost::asio::ssl::context>;

// Fails, in a sentence that names the file, if one cannot be used or the two do not belong
// together.
base::Result<TlsContext> tls_context(const TlsFiles& files);

}  // namespace drawoff::server
