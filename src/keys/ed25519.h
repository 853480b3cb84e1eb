// Keys, signatures and hashes, by libsodium: natively only. The browser has its own.
//
//   keys::holds(record.covered, record.signature, record.key)
//   const auto key = keys::PrivateKey::from_pem(text);
//   const std::string signature = key->sign(covered);
//
// Bytes are std::string, as in base/base64.h.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace drawoff::keys {

// 32 bytes [fips2015].
std::string sha256(std::string_view bytes);

// Whether that key signed this message [rfc8032]. False for a key or signature of another length,
// for a key of small order and for a signature in another than its one form.
bool holds(std::string_view message, std::string_view signature, std::string_view public_key);

// The 32 bytes from which all else follows. Wiped when it goes; shown by nothing.
class PrivateKey {
 public:
  // PKCS #8 in PEM form without a password [rfc8410], as `openssl genpkey -algorithm ed25519` makes
  // it and the app keeps it. None for any other text.
  static std::optional<PrivateKey> from_pem(std::string_view text);
  static std::optional<PrivateKey> from_seed(std::string_view bytes);

  PrivateKey(const PrivateKey&) = default;
  PrivateKey& operator=(const PrivateKey&) = default;
  ~PrivateKey();

  std::string public_key() const;                    // 32 bytes
  std::string sign(std::string_view message) const;  // 64 bytes; the same message gives the same

 private:
  PrivateKey() = default;
  std::array<unsigned char, 64> secret_{};  // seed and public key, as libsodium holds them
};

// Overwrites a secret that is no longer needed.
void wipe(std::string& secret);

}  // namespace drawoff::keys
