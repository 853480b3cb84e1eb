#include "book/signature.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <algorithm>
#include <string>
#include <vector>

#include "book/example_test.h"
#include "fields/schema.h"

namespace drawoff::book {
namespace {

const std::string kKey(32, '\x11');
const std::string kSignature(64, '\x5a');
const std::string kHashA(64, 'a');
const std::string kHashB(64, 'b');

SiteFile example() {
  fields::ReadContext context;
  auto site = read_site_file(kExampleFile, context);
  EXPECT_TRUE(site);
  return *std::move(site);
}

std::string covered() {
  return text_to_sign({.signed_by = "R. Tamm", .at = {"2025-03-09T11:00:00Z"}},
                      kKey,
                      example(),
                      {{.sha256 = kHashB, .name = "record.pdf"}, {.sha256 = kHashA}});
}
std::string example_record() { return with_signature(covered(), kSignature); }

std::string replaced(std::string text, std::string_view from, std::string_view to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

std::string fault(std::string_view text) {
  fields::ReadContext context;
  const auto record = read_record(text, context);
  return record ? "" : words(record.error().message);
}

TEST(Record, is_written_in_lines_and_comes_apart_again) {
  const std::string text = example_record();
  EXPECT_EQ(text.substr(0, text.find("\n{\"id\"")),
            "{\"schema\":\"drawoff.record\",\"version\":1}\n"
            "{\"signed_by\":\"R. Tamm\",\"at\":\"2025-03-09T11:00:00Z\",\"key\":\"" +
                std::string(64, '1') + "\",\"entries\":5,\"attachments\":2}");
  EXPECT_EQ(
      text.substr(text.find("{\"sha256\"")),
      "{\"sha256\":\"" + kHashA + "\"}\n{\"sha256\":\"" + kHashB +
          "\",\"name\":\"record.pdf\"}\n{\"signature\":\"" +
          [] {
            std::string digits;
            for (int i = 0; i < 64; ++i) digits += "5a";
            return digits;
          }() +
          "\"}\n");

  fields::ReadContext context;
  const auto record = read_record(text, context);
  ASSERT_TRUE(record) << words(record.error().message);
  EXPECT_EQ(record->covered, covered());
  EXPECT_EQ(record->key, kKey);
  EXPECT_EQ(record->signature, kSignature);
  EXPECT_EQ(record->head.signed_by, "R. Tamm");
  ASSERT_EQ(record->entries.size(), 5U);
  EXPECT_EQ(record->attachments[1].name, "record.pdf");
  const auto site = site_of(*record, context);
  ASSERT_TRUE(site) << words(site.error().message);
  EXPECT_EQ(site->entries, example().entries);
}

TEST(Record, is_the_same_in_whatever_order_things_came) {
  SiteFile site = example();
  std::reverse(site.entries.begin(), site.entries.end());
  const Claims claims{.signed_by = "R. Tamm", .at = {"2025-03-09T11:00:00Z"}};
  EXPECT_EQ(text_to_sign(claims,
                         kKey,
                         site,
                         {{.sha256 = kHashA},
                          {.sha256 = kHashB},
                          {.sha256 = kHashB, .name = "record.pdf"},
                          {.sha256 = kHashA}}),
            covered());
}

TEST(Record, lists_the_photos_of_a_site) {
  SiteFile site;
  site.entries = {entry({.id = 1, .kind = "photo"}),
                  entry({.id = 2, .kind = "photo"}),
                  entry({.id = 3, .kind = "reading"})};
  site.entries[0].body.json["sha256"] = kHashA;
  site.entries[1].body.json["sha256"] = "no hash";
  site.entries[2].body.json["sha256"] = kHashB;
  const std::vector<Attachment> photos = photos_of(site);
  ASSERT_EQ(photos.size(), 1U);
  EXPECT_EQ(photos[0].sha256, kHashA);
}

TEST(Record, says_what_is_wrong_with_it) {
  const std::string good = example_record();
  EXPECT_EQ(fault(good), "");
  const std::string not_one =
      "The file is no signed record; it must begin with the line "
      "{\"schema\":\"drawoff.record\",\"version\":1}. Choose a file that was signed.";
  const std::string cut =
      "The record does not hold: its last line is no signature, so it was cut off or changed. Ask "
      "for the file again from whoever made it.";
  const auto lines = [](const char* entries, const char* found) {
    return "The record does not hold: it speaks of " + std::string(entries) +
           " and 2 attachments, and " + found +
           " there. Something was added or taken out; ask for the file again from whoever made it.";
  };
  EXPECT_EQ(fault(""), not_one);
  EXPECT_EQ(fault(kExampleFile), not_one);
  EXPECT_EQ(fault(' ' + good), not_one);
  EXPECT_EQ(fault(replaced(good, "\"version\":1", "\"version\":01")), not_one);
  EXPECT_EQ(fault(replaced(good, "\"version\":1", "\"version\":12")),
            "The record was written by a newer Drawoff (record version 12; this one reads up to "
            "1). Update, then check it again; the file is unchanged.");
  EXPECT_EQ(fault(replaced(good, "}\n", "}\r\n")),
            "The record does not hold as it stands: its line ends were changed on the way, as some "
            "programs do with text. Ask for it again, sent as a file.");
  EXPECT_EQ(fault(kRecordLine), cut);
  EXPECT_EQ(fault(std::string(kRecordLine) + '\n'), cut);
  EXPECT_EQ(fault(with_signature(std::string(kRecordLine), kSignature)), not_one);
  EXPECT_EQ(fault(with_signature(std::string(kRecordLine) + '\n', kSignature)), cut);
  EXPECT_EQ(fault(good.substr(0, good.size() - 1)), cut);
  EXPECT_EQ(fault(good + '\n'), cut);
  EXPECT_EQ(fault(replaced(good, "5a\"}\n", "5A\"}\n")), cut);
  EXPECT_EQ(fault(replaced(good, "{\"signature\":", "{ \"signature\":")), cut);
  const std::size_t entry_line = good.find("{\"id\"");
  const std::string one = good.substr(entry_line, good.find('\n', entry_line) + 1 - entry_line);
  EXPECT_EQ(fault(replaced(good, one, "")), lines("5 entries", "6 lines stand"));
  EXPECT_EQ(fault(replaced(good, one, one + one)), lines("5 entries", "8 lines stand"));
  EXPECT_EQ(
      fault(replaced(good, "{\"signed_by\"", "[\"signed_by\"")),
      "Line 2 of the record cannot be read; it must be a JSON object. Ask for the record again "
      "from whoever made it.");
  EXPECT_EQ(fault(replaced(good, "R. Tamm", "")),
            "head.signed_by has 0 characters; it must have from 1 to 80. Enter the name of the "
            "person who signs.");
  EXPECT_EQ(fault(replaced(good, "11111111", "1111111g")),
            "head.key is \"1111111g" + std::string(52, '1') +
                "…\"; it must be 64 digits from 0 to 9 and a to f. Ask for the record again from "
                "whoever made it.");
  EXPECT_EQ(fault(replaced(good, kHashA, std::string(64, 'c'))),
            "Line 9 of the record is an attachment out of order; they must stand in the order of "
            "their hashes, each once. Ask for the record again from whoever made it.");
}

TEST(Record, reads_its_entries_by_the_rules_of_a_site) {
  const std::string good = example_record();
  const auto site_fault = [](const std::string& text) {
    fields::ReadContext context;
    const auto record = read_record(text, context);
    if (!record) return words(record.error().message);
    const auto site = site_of(*record, context);
    return site ? "" : words(site.error().message);
  };
  EXPECT_EQ(site_fault(good), "");
  EXPECT_EQ(
      site_fault(replaced(good, "{\"id\"", "],{\"id\"")),
      "Line 3 of the record cannot be read; it must be a JSON object. Ask for the record again "
      "from whoever made it.");
  EXPECT_EQ(site_fault(replaced(good, id_of(2), id_of(1))).substr(0, 16), "entries[1].id is");
}

TEST(Record, comes_back_from_what_mail_programs_add) {
  const std::string good = example_record();
  const auto with_returns = [](const std::string& text) {
    std::string out;
    for (const char c : text) out += c == '\n' ? std::string("\r\n") : std::string(1, c);
    return out;
  };
  const std::string mark = "\xef\xbb\xbf";
  EXPECT_EQ(as_sent(good), std::nullopt);
  EXPECT_EQ(as_sent(mark + good), good);
  EXPECT_EQ(as_sent(with_returns(good)), good);
  EXPECT_EQ(as_sent(mark + with_returns(good)), good);
  // What was not added on the way stays: then it does not hold.
  EXPECT_EQ(as_sent(mark + mark + good), mark + good);
  EXPECT_EQ(as_sent(replaced(good, "}\n{\"id\"", "}\r\n{\"id\"")), std::nullopt);
  EXPECT_EQ(as_sent(with_returns("hello\n")), std::nullopt);
}

TEST(Record, keeps_what_a_later_version_adds) {
  fields::ReadContext context;
  ASSERT_TRUE(read_record(
      replaced(example_record(), "\"attachments\":2}", "\"attachments\":2,\"place\":1}"), context));
  ASSERT_EQ(context.warnings.size(), 1U);
  EXPECT_EQ(words(context.warnings[0]), "head.place is not known here; it is kept but not used.");
}

TEST(Record, takes_any_bytes) {
  EXPECT_TRUE(rc::check([](std::string text, bool begun) {
    if (begun) text = std::string(kRecordLine) + '\n' + text;
    fields::ReadContext context;
    const auto record = read_record(text, context);
    const bool good = !record || record->covered.size() < text.size();
    RC_ASSERT(good);  // which looks at both sides of an "or"
  }));
}

TEST(Fingerprint, is_five_groups_of_four) {
  // RFC 4648, section 10: "foobar" is MZXW6YTBOI======.
  EXPECT_EQ(fingerprint(std::string("foobar") + std::string(26, '\0')), "MZXW-6YTB-OIAA-AAAA-AAAA");
  EXPECT_EQ(fingerprint(std::string(32, '\xff')), "7777-7777-7777-7777-7777");
}

TEST(Record, its_words_are_in_the_catalogue) {
  const messages::Catalogue& catalogue = messages::catalogue("en");
  for (const std::string_view id : kRecordMessages) {
    const std::string* text = catalogue.find(id);
    ASSERT_NE(text, nullptr) << id;
    EXPECT_EQ(messages::fault_of(*text), "") << id;
  }
  for (const auto& ids : {fields::message_ids<RecordHead>(), fields::message_ids<Attachment>()}) {
    for (const std::string& id : ids) EXPECT_NE(catalogue.find(id), nullptr) << id;
  }
}

}  // namespace
}  // namespace drawoff::book
