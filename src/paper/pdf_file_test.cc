#include "paper/pdf_file.h"

#include <gtest/gtest.h>

#include <string>

namespace drawoff::paper {
namespace {

TEST(pdf_file, numbers_are_short_and_plain) {
  EXPECT_EQ(pdf_number(0), "0");
  EXPECT_EQ(pdf_number(-0.0), "0");
  EXPECT_EQ(pdf_number(-0.0004), "0");
  EXPECT_EQ(pdf_number(-0.0006), "-0.001");
  EXPECT_EQ(pdf_number(12), "12");
  EXPECT_EQ(pdf_number(100), "100");
  EXPECT_EQ(pdf_number(1.5), "1.5");
  EXPECT_EQ(pdf_number(-841.8898), "-841.89");
  EXPECT_EQ(pdf_number(0.05), "0.05");
  EXPECT_EQ(pdf_points(25.4), "72");
}

TEST(pdf_file, texts_are_written_so_that_nothing_in_them_is_syntax) {
  EXPECT_EQ(pdf_text(U"A)µ😀"), "<FEFF0041002900B5D83DDE00>");
  EXPECT_EQ(pdf_string("a(b)\\c\n"), "(a\\050b\\051\\134c\\012)");
}

// FNV-1a's published values of "" and "a".
TEST(pdf_file, hash_is_fnv_1a) {
  EXPECT_EQ(hash_digits(""), "CBF29CE484222325");
  EXPECT_EQ(hash_digits("a"), "AF63DC4C8601EC8C");
}

TEST(pdf_file, every_object_stands_where_the_table_says) {
  PdfFile file;
  const int first = file.reserve();
  const int stream = file.add_stream("/Kind /Test", "content");
  file.set(first, "<< /Type /Catalog >>");
  EXPECT_EQ(stream, 2);
  const std::string bytes = file.finish({.root = first, .info = first});
  const std::size_t table = bytes.find("xref\n0 3\n");
  ASSERT_NE(table, std::string::npos);
  EXPECT_NE(bytes.find("startxref\n" + std::to_string(table) + "\n%%EOF\n"), std::string::npos);
  for (int object = 1; object <= 2; ++object) {
    const std::string entry = bytes.substr(table + 9 + 20 * object, 20);
    EXPECT_EQ(entry.substr(10), " 00000 n \n");
    const std::string head = std::to_string(object) + " 0 obj\n";
    EXPECT_EQ(bytes.substr(std::stoul(entry.substr(0, 10)), head.size()), head);
  }
  EXPECT_NE(bytes.find("<< /Kind /Test /Length 7 >>\nstream\ncontent\nendstream"),
            std::string::npos);
}

}  // namespace
}  // namespace drawoff::paper
