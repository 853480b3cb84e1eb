#include "book/handed_over.h"

#include <gtest/gtest.h>

#include <string>
#include <string_view>

#include "fields/json.h"
#include "fields/read.h"

namespace drawoff::book {
namespace {

// The id of the refusal; empty if it is taken.
std::string refused(std::string_view text) {
  fields::ReadContext context;
  const auto json = fields::parse_json(text);
  EXPECT_TRUE(json);
  const auto entry = fields::read_at<HandedOverEntry>(*json, {}, context);
  return entry ? "" : entry.error().message.id;
}
const std::string kHash(64, 'a');

TEST(handed_over, is_taken_over_or_says_why_not) {
  EXPECT_EQ(refused(R"({"technician": "R. Tamsin", "receiver": "M. Orsolt", "role": "head"})"), "");
  EXPECT_EQ(refused(R"({"technician": "R. Tamsin", "nobody": "would_not_sign"})"), "");
  EXPECT_EQ(refused(R"({"technician": "R. Tamsin", "nobody": "other", "note": "It was dark."})"),
            "");
  EXPECT_EQ(refused(R"({"technician": "R. Tamsin"})"), "error.handed_over.nobody");
  EXPECT_EQ(refused(R"({"technician": "R. Tamsin", "receiver": "M", "nobody": "nobody_there"})"),
            "error.handed_over.both");
  EXPECT_EQ(refused(R"({"technician": "R. Tamsin", "nobody": "other"})"),
            "error.handed_over.reason");
}

TEST(handed_over, names_signatures_by_their_hash) {
  const std::string receiver = R"("receiver": "M. Orsolt", "receiver_signature": ")";
  EXPECT_EQ(refused(R"({"technician": "R. Tamsin", )" + receiver + kHash + "\"}"), "");
  EXPECT_EQ(refused(R"({"technician": "R. Tamsin", )" + receiver + std::string(64, 'g') + "\"}"),
            "error.record.hex");
  EXPECT_EQ(refused(R"({"technician": "R. Tamsin", "nobody": "may_not_sign",
                        "receiver_signature": ")" +
                    kHash + "\"}"),
            "error.handed_over.whose");
}

}  // namespace
}  // namespace drawoff::book
