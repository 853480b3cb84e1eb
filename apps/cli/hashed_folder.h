// The files of a folder by their SHA-256: photos, papers and drawn signatures are named by it.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "console.h"

namespace drawoff::cli {

// What lies deeper is not looked at. Hashes are hexadecimal.
struct HashedFolder {
  std::map<std::string, std::string> name_of;    // hash, file
  std::map<std::string, std::string> sha256_of;  // file, hash
};

// Complains and gives the status if the folder or a file in it cannot be read.
std::optional<Exit> read_folder(const std::string& name,
                                const Console& console,
                                HashedFolder& into);

}  // namespace drawoff::cli
