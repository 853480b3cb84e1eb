#include "base/base64.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

namespace drawoff::base {
namespace {

// RFC 4648, section 10.
TEST(Base64, keeps_to_the_vectors_of_the_standard) {
  const std::pair<const char*, const char*> vectors[] = {{"", ""},
                                                         {"f", "Zg=="},
                                                         {"fo", "Zm8="},
                                                         {"foo", "Zm9v"},
                                                         {"foob", "Zm9vYg=="},
                                                         {"fooba", "Zm9vYmE="},
                                                         {"foobar", "Zm9vYmFy"}};
  for (const auto& [bytes, text] : vectors) {
    EXPECT_EQ(to_base64(bytes), text);
    EXPECT_EQ(from_base64(text), bytes);
  }
}

TEST(Base64, gives_back_any_bytes) {
  EXPECT_TRUE(rc::check(
      [](const std::string& bytes) { RC_ASSERT(from_base64(to_base64(bytes)) == bytes); }));
}

TEST(Base64, refuses_what_it_would_not_write) {
  for (const char* text :
       {"Z", "Zg", "Zg=", "Zh==", "Zm9=", "Zm 9v", "Zm9v\n", "====", "Zg==Zg=="}) {
    EXPECT_EQ(from_base64(text), std::nullopt) << text;
  }
}

}  // namespace
}  // namespace drawoff::base
