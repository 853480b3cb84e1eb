#include "server/tls.h"

#include <openssl/err.h>
#include <openssl/ssl.h>
#include <openssl/x509err.h>

#include <boost/asio/ssl/context.hpp>

#include "fields/quote.h"

namespace drawoff::server {

namespace {

namespace ssl = boost::asio::ssl;
using boost::system::error_code;

base::Error refused(const char* id, const TlsFiles& files) {
  return {base::ErrorKind::kData,
          {id,
           {{"certificate", fields::quote_text(files.certificates.name)},
            {"key", fields::quote_text(files.key.name)}}}};
}

}  // namespace

base::Result<TlsContext> tls_context(const TlsFiles& files) {
  auto out = std::make_shared<ssl::context>(ssl::context::tls_server);
  SSL_CTX_set_min_proto_version(out->native_handle(), TLS1_2_VERSION);
  SSL_CTX_set_options(out->native_handle(), SSL_OP_NO_RENEGOTIATION);
  error_code error;
  // Nobody is asked for a password: the key is then as good as unreadable.
  out->set_password_callback([](std::size_t, ssl::context::password_purpose) { return ""; }, error);
  out->use_certificate_chain(boost::asio::buffer(files.certificates.text), error);
  if (error) return refused("error.serve.certificate", files);
  out->use_private_key(boost::asio::buffer(files.key.text), ssl::context::pem, error);
  const bool is_other = error && ERR_GET_REASON(static_cast<unsigned long>(error.value())) ==
                                     X509_R_KEY_VALUES_MISMATCH;
  if (error && !is_other) return refused("error.serve.key", files);
  // A key of another kind is not compared before this.
  if (is_other || SSL_CTX_check_private_key(out->native_handle()) != 1) {
    return refused("error.serve.key_of_another", files);
  }
  return out;
}

}  // namespace drawoff::server
