#include "server/folder.h"

#include <gtest/gtest.h>
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <map>
#include <string>

#include "messages/catalogue.h"

namespace drawoff::server {
namespace {

namespace fs = std::filesystem;

class Folder : public testing::Test {
 protected:
  Folder() {
    std::string name = (fs::temp_directory_path() / "drawoff-folder-XXXXXX").string();
    top_ = mkdtemp(name.data());
    app_ = top_ / "app";
    fs::create_directories(app_ / "assets/deep");
  }
  ~Folder() override { fs::remove_all(top_); }

  static void write(const fs::path& file, const std::string& content) {
    std::ofstream(file, std::ios::binary) << content;
  }
  static std::string refusal(const fs::path& folder) {
    const auto read = read_folder(folder.string());
    return read ? "" : messages::render(messages::catalogue("en"), read.error().message);
  }

  fs::path top_;
  fs::path app_;
};

TEST_F(Folder, gives_all_files_below_it_and_none_beside_it) {
  const std::string bytes("\0\xFF\r\n", 4);
  write(app_ / "index.html", "start");
  write(app_ / "assets/deep/a.bin", bytes);
  write(app_ / "assets/empty", "");
  write(app_ / ".hidden", "no");
  fs::create_directories(app_ / ".git");
  write(app_ / ".git/config", "no");
  write(top_ / "secret", "no");
  fs::create_symlink(top_ / "secret", app_ / "link");
  fs::create_directory_symlink(top_, app_ / "up");
  for (const std::string& spelling : {app_.string(), app_.string() + "/", (app_ / ".").string()}) {
    const auto read = read_folder(spelling);
    ASSERT_TRUE(read) << spelling;
    std::map<std::string, std::string> found;
    for (const File& file : *read) found.emplace(file.path, file.content);
    const std::map<std::string, std::string> wanted = {
        {"index.html", "start"}, {"assets/deep/a.bin", bytes}, {"assets/empty", ""}};
    EXPECT_EQ(found, wanted) << spelling;
  }
}

TEST_F(Folder, says_what_is_wrong_and_what_to_do) {
  EXPECT_NE(refusal(top_ / "none").find("there is no such folder"), std::string::npos);
  EXPECT_NE(refusal(app_).find("holds no index.html"), std::string::npos);
  write(top_ / "secret", "x");
  fs::create_symlink(top_ / "secret", app_ / "index.html");
  EXPECT_NE(refusal(app_).find("holds no index.html"), std::string::npos);
  EXPECT_NE(refusal(top_ / "secret").find("it is not a folder"), std::string::npos);
  EXPECT_NE(refusal(top_ / "none").find("script/run"), std::string::npos);
}

TEST_F(Folder, refuses_what_is_far_more_than_an_app) {
  write(app_ / "index.html", "start");
  write(app_ / "large", "");
  fs::resize_file(app_ / "large", std::uintmax_t{129} << 20);  // of nothing: takes no room
  EXPECT_NE(refusal(app_).find("far more than an app"), std::string::npos);
}

}  // namespace
}  // namespace drawoff::server
