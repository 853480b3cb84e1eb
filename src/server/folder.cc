#include "server/folder.h"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <optional>
#include <utility>

#include "fields/quote.h"

namespace drawoff::server {

namespace {

namespace fs = std::filesystem;

constexpr std::uintmax_t kMostBytes = std::uintmax_t{128} << 20;
constexpr std::size_t kMostFiles = 5000;

base::Error refused(const std::string& folder, const char* reason) {
  return {base::ErrorKind::kData,
          {"error.serve.folder", {{"folder", fields::quote_text(folder)}, {"reason", reason}}}};
}

std::optional<std::string> content_of(const fs::path& file) {
  std::ifstream in(file, std::ios::binary);
  std::string out{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  if (!in) return std::nullopt;
  return out;
}

bool is_hidden(const fs::path& path) { return path.filename().native().starts_with('.'); }

}  // namespace

base::Result<std::vector<File>> read_folder(const std::string& folder) {
  std::error_code error;
  const fs::path root(folder);
  const fs::file_status status = fs::status(root, error);
  if (status.type() == fs::file_type::not_found) return refused(folder, "missing");
  if (status.type() != fs::file_type::directory) return refused(folder, error ? "unread" : "file");
  if (fs::symlink_status(root / "index.html", error).type() != fs::file_type::regular) {
    return refused(folder, "index");
  }

  std::vector<File> files;
  std::uintmax_t bytes = 0;
  fs::recursive_directory_iterator at(root, error);
  for (; !error && at != fs::recursive_directory_iterator(); at.increment(error)) {
    if (is_hidden(at->path())) {
      at.disable_recursion_pending();
      continue;
    }
    if (fs::symlink_status(at->path(), error).type() != fs::file_type::regular) continue;
    const std::uintmax_t size = fs::file_size(at->path(), error);
    if (error) break;
    bytes += size;
    if (bytes > kMostBytes || files.size() >= kMostFiles) return refused(folder, "large");
    std::optional<std::string> content = content_of(at->path());
    if (!content) return refused(folder, "unread");
    files.push_back({at->path().lexically_relative(root).generic_string(), *std::move(content)});
  }
  if (error) return refused(folder, "unread");
  return files;
}

}  // namespace drawoff::server
