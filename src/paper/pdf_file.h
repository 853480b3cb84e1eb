// The file structure of a PDF: numbered objects, their offsets, and the values they are written of.
//
//   PdfFile file;
//   const int page = file.add("<< /Type /Page … >>");
//   std::string bytes = file.finish({.root = catalog, .info = info});
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace drawoff::paper {

// Thousandths at the finest, without exponent or locale: "12.5", "-0.001", "0". The value must lie
// within ±1e9.
std::string pdf_number(double value);
// A length [mm] in points, as above.
std::string pdf_points(double millimetres);
// A text for people, as UTF-16 in hexadecimal digits: "<FEFF0041>".
std::string pdf_text(std::u32string_view text);
// The same without its marks, for use in a character map: "0041".
std::string utf16_digits(std::u32string_view text);
// An ASCII text such as an address, in parentheses; what else it holds is written as escapes.
std::string pdf_string(std::string_view text);
std::string pdf_reference(int object);

// A 64-bit FNV-1a hash [fnv1991]: the same text has the same name in every build.
std::string hash_digits(std::string_view bytes);

class PdfFile {
 public:
  // A number for an object whose content comes later.
  int reserve();
  void set(int object, std::string content);
  int add(std::string content);
  // `entries` are those of its dictionary besides /Length: "/Subtype /Image".
  int add_stream(std::string_view entries, std::string_view bytes);

  struct Roots {
    int root = 0;
    int info = 0;
  };
  // Every reserved object must have been set.
  std::string finish(const Roots& roots) const;

 private:
  std::vector<std::string> objects_;  // number 1 first
};

}  // namespace drawoff::paper
