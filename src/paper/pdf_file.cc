#include "paper/pdf_file.h"

#include <fmt/format.h>

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <utility>

#include "base/check.h"

namespace drawoff::paper {

std::string pdf_number(double value) {
  CHECK(std::abs(value) < 1e9);
  const long long thousandths = std::llround(value * 1000);
  std::string text = fmt::format("{}{}.{:03}",
                                 thousandths < 0 ? "-" : "",
                                 std::llabs(thousandths) / 1000,
                                 std::llabs(thousandths) % 1000);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string pdf_points(double millimetres) { return pdf_number(millimetres * 72 / 25.4); }

std::string utf16_digits(std::u32string_view text) {
  std::string digits;
  for (const char32_t c : text) {
    if (c < 0x10000) {
      digits += fmt::format("{:04X}", static_cast<std::uint32_t>(c));
    } else {
      const auto above = static_cast<std::uint32_t>(c) - 0x10000;
      digits += fmt::format("{:04X}{:04X}", 0xD800 + (above >> 10), 0xDC00 + (above & 0x3FF));
    }
  }
  return digits;
}

std::string pdf_text(std::u32string_view text) { return "<FEFF" + utf16_digits(text) + ">"; }

std::string pdf_string(std::string_view text) {
  std::string result = "(";
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte < 0x20 || byte > 0x7E || c == '(' || c == ')' || c == '\\') {
      result += fmt::format("\\{:03o}", byte);
    } else {
      result += c;
    }
  }
  return result + ")";
}

std::string pdf_reference(int object) { return fmt::format("{} 0 R", object); }

std::string hash_digits(std::string_view bytes) {
  std::uint64_t hash = 0xCBF29CE484222325;
  for (const char c : bytes) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001B3;
  return fmt::format("{:016X}", hash);
}

int PdfFile::reserve() {
  objects_.emplace_back();
  return static_cast<int>(objects_.size());
}

void PdfFile::set(int object, std::string content) {
  objects_[static_cast<std::size_t>(object - 1)] = std::move(content);
}

int PdfFile::add(std::string content) {
  objects_.push_back(std::move(content));
  return static_cast<int>(objects_.size());
}

int PdfFile::add_stream(std::string_view entries, std::string_view bytes) {
  return add(
      fmt::format("<< {} /Length {} >>\nstream\n{}\nendstream", entries, bytes.size(), bytes));
}

std::string PdfFile::finish(const Roots& roots) const {
  // Four bytes above 127 tell programs that move files that this one is binary.
  std::string bytes = "%PDF-1.7\n%\xE2\xE3\xCF\xD3\n";
  std::string table = fmt::format("xref\n0 {}\n0000000000 65535 f \n", objects_.size() + 1);
  for (std::size_t i = 0; i < objects_.size(); ++i) {
    CHECK(!objects_[i].empty());
    table += fmt::format("{:010} 00000 n \n", bytes.size());
    bytes += fmt::format("{} 0 obj\n{}\nendobj\n", i + 1, objects_[i]);
  }
  const std::string id = hash_digits(bytes) + hash_digits(table);
  const std::size_t start = bytes.size();
  return bytes + table +
         fmt::format(
             "trailer\n<< /Size {} /Root {} /Info {} /ID [<{}> <{}>] >>\nstartxref\n{}\n%%EOF\n",
             objects_.size() + 1,
             pdf_reference(roots.root),
             pdf_reference(roots.info),
             id,
             id,
             start);
}

}  // namespace drawoff::paper
