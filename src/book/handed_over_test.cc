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

TEST(handed_over, is_drawn_or_on_paper_and_not_both) {
  const std::string start = R"({"technician": "R. Tamsin", )";
  EXPECT_EQ(refused(start + R"("technician_on_paper": true, "receiver": "M. Orsolt",
                                "receiver_on_paper": true})"),
            "");
  EXPECT_EQ(refused(start + R"("technician_on_paper": true, "nobody": "nobody_there",
                                "technician_signature": ")" +
                    kHash + "\"}"),
            "error.handed_over.drawn");
  EXPECT_EQ(refused(start + R"("receiver": "M. Orsolt", "receiver_on_paper": true,
                                "receiver_signature": ")" +
                    kHash + "\"}"),
            "error.handed_over.drawn");
  EXPECT_EQ(refused(start + R"("nobody": "nobody_there", "receiver_on_paper": true})"),
            "error.handed_over.whose");
}

TEST(handed_over, says_whom_to_call_and_when_the_next_visit_is) {
  const auto with = [](const std::string& more) {
    return refused(R"({"technician": "R. Tamsin", "nobody": "nobody_there", )" + more + "}");
  };
  EXPECT_EQ(with(R"("firm": "Tamsin Water", "telephone": "+00 (12) 345-67.8/9 ext. 4",
                    "next_visit": "2027-05")"),
            "");
  EXPECT_EQ(with(R"("telephone": "१२३ ४५६", "next_visit": "2027-05-14")"), "");
  EXPECT_EQ(with(R"("telephone": "abc")"), "error.handed_over.telephone");
  EXPECT_EQ(with(R"("telephone": "12; 34")"), "error.handed_over.telephone");
  EXPECT_EQ(with(R"("telephone": "12\n34")"), "error.handed_over.telephone");
  EXPECT_EQ(with(R"("next_visit": "in May")"), "error.handed_over.date");
  EXPECT_EQ(with(R"("next_visit": "2027-13")"), "error.handed_over.date");
  EXPECT_NE(with(R"("telephone": ")" + std::string(41, '1') + "\""), "");
}

}  // namespace
}  // namespace drawoff::book
