#include "hashed_folder.h"

#include <algorithm>
#include <filesystem>
#include <system_error>
#include <vector>

#include "base/hex.h"
#include "fields/quote.h"
#include "keys/ed25519.h"

namespace drawoff::cli {

std::optional<Exit> read_folder(const std::string& name,
                                const Console& console,
                                HashedFolder& into) {
  std::error_code failed;
  std::vector<std::filesystem::path> files;
  for (std::filesystem::directory_iterator at(name, failed), end; !failed && at != end;
       at.increment(failed)) {
    std::error_code unknown;
    if (at->is_regular_file(unknown)) files.push_back(at->path());
  }
  if (failed) {
    console.complain({"verify.folder", {{"path", fields::quote_text(name)}}});
    return Exit::kNoInput;
  }
  std::sort(files.begin(), files.end());
  for (const std::filesystem::path& file : files) {
    const Console::Input input = console.read(file.string());
    if (input.failed) return input.failed;
    const std::string sha256 = base::to_hex(keys::sha256(input.text));
    into.name_of.emplace(sha256, file.filename().string());
    into.sha256_of.emplace(file.filename().string(), sha256);
  }
  return std::nullopt;
}

}  // namespace drawoff::cli
