#include "console.h"

#include <fcntl.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <cstring>

#include "fields/quote.h"

namespace drawoff::cli {

namespace {

using base::Message;

constexpr std::size_t kPiece = std::size_t{64} << 10;
// Far beyond what the reader of JSON accepts: only to end when the input never does.
constexpr std::size_t kMostRead = std::size_t{256} << 20;

std::string_view environment(const char* name) {
  const char* value = std::getenv(name);
  return value != nullptr ? value : "";
}

std::size_t terminal_width() {
  constexpr int kUsual = 80;
  constexpr int kLeast = 20;
  constexpr int kMost = 500;
  int width = std::atoi(std::string(environment("COLUMNS")).c_str());
  winsize size{};
  if (width <= 0 && isatty(STDOUT_FILENO) == 1 && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0) {
    width = size.ws_col;
  }
  return static_cast<std::size_t>(width <= 0 ? kUsual : std::clamp(width, kLeast, kMost));
}

bool has_colour() {
  return isatty(STDOUT_FILENO) == 1 && environment("NO_COLOR").empty() &&
         environment("TERM") != "dumb" && !environment("TERM").empty();
}

// Opens a file for reading, or gives standard input; -1 with errno.
int open_input(const std::string& name) {
  if (name == "-") return STDIN_FILENO;
  const int file = open(name.c_str(), O_RDONLY | O_CLOEXEC);
  struct stat about {};
  if (file >= 0 && fstat(file, &about) == 0 && S_ISDIR(about.st_mode)) {
    close(file);
    errno = EISDIR;
    return -1;
  }
  return file;
}

// Appends what there is; 0 at the end, -1 on an error.
ssize_t read_some(int file, std::string& into) {
  const std::size_t before = into.size();
  into.resize(before + kPiece);
  ssize_t got = -1;
  do {
    got = ::read(file, into.data() + before, kPiece);
  } while (got < 0 && errno == EINTR);
  into.resize(before + static_cast<std::size_t>(std::max<ssize_t>(got, 0)));
  return got;
}

Exit refuse_file(const Console& console, const std::string& name) {
  const char* reason = errno == ENOENT || errno == ENOTDIR ? "missing"
                       : errno == EISDIR                   ? "folder"
                       : errno == EACCES || errno == EPERM ? "permission"
                                                           : "other";
  console.complain(
      Message{"cli.cannot_read", {{"file", fields::quote_text(name)}, {"reason", reason}}});
  return Exit::kNoInput;
}

// Who waits before an empty screen should know what for.
void invite(const Console& console, const std::string& name) {
  if (name == "-" && isatty(STDIN_FILENO) == 1 && isatty(STDERR_FILENO) == 1) {
    console.complain(Message{"cli.keyboard"});
  }
}

// Writes all of it; 0 or the error.
int write_all(int file, std::string_view text) {
  while (!text.empty()) {
    const ssize_t put = ::write(file, text.data(), text.size());
    if (put < 0 && errno != EINTR) return errno;
    if (put > 0) text.remove_prefix(static_cast<std::size_t>(put));
  }
  return 0;
}

// A handler of signals can reach nothing else.
char abort_sentence[512];  // NOLINT

extern "C" void on_abort(int /*signal*/) {
  static_cast<void>(!::write(STDERR_FILENO, abort_sentence, std::strlen(abort_sentence)));
  _exit(static_cast<int>(Exit::kSoftware));
}

}  // namespace

Console::Console(std::string_view language)
    : words_(messages::catalogue(language)),
      layout_{.width = terminal_width(), .colour = has_colour()} {}

std::string Console::say(const Message& message) const { return messages::render(words_, message); }

Console::Input Console::read(const std::string& name) const {
  Input input;
  const int file = open_input(name);
  if (file < 0) return {"", refuse_file(*this, name)};
  invite(*this, name);
  ssize_t got = 0;
  while (input.text.size() < kMostRead && (got = read_some(file, input.text)) > 0) continue;
  if (got < 0) input.failed = refuse_file(*this, name);
  if (file != STDIN_FILENO) close(file);
  return input;
}

bool Console::write(std::string_view text) {
  if (write_error_ == 0) write_error_ = write_all(STDOUT_FILENO, text);
  return write_error_ == 0;
}

void Console::complain(const Message& message) const { complain_plain(say(message) + '\n'); }

void Console::complain(const std::vector<Message>& messages) const {
  for (const Message& message : messages) complain(message);
}

void Console::complain_plain(std::string_view text) const {
  static_cast<void>(write_all(STDERR_FILENO, text));
}

Exit Console::refuse(const base::Error& error) const {
  complain(error.message);
  return error.kind == base::ErrorKind::kUsage ? Exit::kUsage : Exit::kData;
}

Exit Console::end(Exit status) const {
  // Who closes the pipe has read enough: `drawoff … | head` is no error.
  if (write_error_ == 0 || write_error_ == EPIPE) return status;
  complain(Message{"cli.cannot_write"});
  return Exit::kIo;
}

Console::Lines::Lines(const Console& console, const std::string& name) : file_(open_input(name)) {
  if (file_ < 0) {
    failed_ = refuse_file(console, name);
    ended_ = true;
  } else {
    invite(console, name);
  }
}

Console::Lines::~Lines() {
  if (file_ > STDIN_FILENO) close(file_);
}

std::optional<std::string> Console::Lines::next() {
  std::size_t looked = at_;
  while (true) {
    const std::size_t end = buffer_.find('\n', looked);
    if (end != std::string::npos) {
      std::string line = buffer_.substr(at_, end - at_);
      at_ = end + 1;
      return line;
    }
    if (ended_) {
      if (at_ >= buffer_.size()) return std::nullopt;
      std::string line = buffer_.substr(at_);
      at_ = buffer_.size();
      return line;
    }
    buffer_.erase(0, at_);
    at_ = 0;
    looked = buffer_.size();
    ended_ = buffer_.size() >= kMostRead || read_some(file_, buffer_) <= 0;
  }
}

void explain_aborts(const Console& console) {
  const std::string sentence = console.say("cli.bug") + '\n';
  std::strncpy(abort_sentence, sentence.c_str(), sizeof(abort_sentence) - 1);
  std::signal(SIGABRT, on_abort);
}

}  // namespace drawoff::cli
