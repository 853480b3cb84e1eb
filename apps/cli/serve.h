// drawoff serve: the app, for the browser of this computer or, over TLS, for phones on the network.
#pragma once

#include <string>
#include <vector>

#include "console.h"

namespace drawoff::cli {

struct ServeWords {
  std::string port = "8420";     // as typed
  std::vector<std::string> tls;  // none, or the names of certificate and key
  std::string address;           // "": both families of loopback or, with tls, all addresses
  std::string app;               // "": what was built beside this program
};

// Until SIGINT or SIGTERM.
Exit run_serve(const ServeWords& asked, Console& console);

}  // namespace drawoff::cli
