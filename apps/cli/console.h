// The console: where the command reads, writes and complains. What touches files and the terminal
// stands here; the rest of the command makes texts.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/message.h"
#include "base/result.h"
#include "layout.h"
#include "messages/catalogue.h"

namespace drawoff::cli {

// Exit statuses: those of sysexits.h, but 2 for usage, as shells have it.
enum class Exit {
  kDone = 0,
  kDoesNotHold = 1,  // a signature, as `drawoff verify` found
  kUsage = 2,
  kData = 65,
  kNoInput = 66,
  kSoftware = 70,
  kIo = 74,
};

class Console {
 public:
  explicit Console(std::string_view language);

  const messages::Catalogue& words() const { return words_; }
  const Layout& layout() const { return layout_; }
  std::string say(const base::Message& message) const;
  std::string say(const char* id) const { return say(base::Message{id}); }

  // A file, or standard input for "-". Complains and gives the status if it cannot be read.
  struct Input {
    std::string text;
    std::optional<Exit> failed;
  };
  Input read(const std::string& name) const;
  // The same, one line after the other (below).
  class Lines;

  // Standard output. False when it is of no use to go on: nobody reads, or the disk is full.
  bool write(std::string_view text);
  // One line on standard error.
  void complain(const base::Message& message) const;
  void complain(const std::vector<base::Message>& messages) const;
  void complain_plain(std::string_view text) const;  // as it is, on standard error
  // Complains; the status that fits.
  Exit refuse(const base::Error& error) const;
  // What the writing so far makes of a status: a full disk is an error of its own.
  Exit end(Exit status) const;

 private:
  const messages::Catalogue& words_;
  Layout layout_;
  int write_error_ = 0;
};

// The lines of a file or of standard input, without their ends, one at a time.
class Console::Lines {
 public:
  Lines(const Console& console, const std::string& name);
  ~Lines();
  Lines(const Lines&) = delete;
  Lines& operator=(const Lines&) = delete;

  const std::optional<Exit>& failed() const { return failed_; }
  std::optional<std::string> next();

 private:
  int file_ = -1;
  std::string buffer_;
  std::size_t at_ = 0;
  bool ended_ = false;
  std::optional<Exit> failed_;
};

// From now on a failed CHECK ends in one sentence and status 70.
void explain_aborts(const Console& console);

}  // namespace drawoff::cli
