#include "book/site_file.h"

#include <gtest/gtest.h>

#include <string>
#include <string_view>

#include "book/example_test.h"
#include "book/fold.h"
#include "fields/json.h"
#include "fields/schema.h"
#include "fields/write.h"

namespace drawoff::book {
namespace {

std::string with(std::string_view from, std::string_view to) {
  std::string text(kExampleFile);
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

std::string fault(std::string_view text) {
  fields::ReadContext context;
  const auto file = read_site_file(text, context);
  return file ? "" : words(file.error().message);
}

TEST(SiteFile, comes_back_byte_for_byte) {
  fields::ReadContext context;
  const auto file = read_site_file(kExampleFile, context);
  ASSERT_TRUE(file) << words(file.error().message);
  EXPECT_EQ(write_site_file(*file), kExampleFile);
  ASSERT_EQ(file->entries.size(), 5U);
  EXPECT_EQ(file->entries[2].body.json.dump(), R"({"name":"unit 1"})");
  EXPECT_EQ(file->entries[4].clock.device(), "phone-2");
  EXPECT_EQ(file->entries[4].clock.time(), "2025-03-09T10:05:00.000Z");
}

TEST(SiteFile, names_what_it_does_not_know) {
  fields::ReadContext context;
  ASSERT_TRUE(read_site_file(with(R"("kind": "survey")", R"("kind": "servey")"), context));
  std::vector<std::string> said;
  for (const auto& warning : context.warnings) said.push_back(words(warning));
  EXPECT_EQ(said,
            (std::vector<std::string>{
                "entries[2].signature is not known here; it is kept but not used.",
                "made_by is not known here; it is kept but not used.",
                "entries[1].kind is \"servey\", which is not known here; the entry is kept but "
                "not used. Did you mean \"survey\"?"}));
}

TEST(SiteFile, many_entries_of_an_unknown_kind_give_one_warning) {
  SiteFile file;
  for (int i = 1; i <= 9; ++i) {
    file.entries.push_back(entry({.id = i, .minute = i, .kind = "sound"}));
  }
  fields::ReadContext context;
  ASSERT_TRUE(read_site_file(write_site_file(file), context));
  ASSERT_EQ(context.warnings.size(), 1U);
  EXPECT_EQ(words(context.warnings[0]),
            "entries[0].kind is \"sound\", which is not known here; 9 entries of that kind are "
            "kept but not used.");
}

TEST(SiteFile, a_newer_version_is_refused_as_such) {
  fields::ReadContext context;
  // Its fields need not be those of today.
  const auto file = read_site_file(R"({"schema":"drawoff.site","version":7})", context);
  ASSERT_FALSE(file);
  EXPECT_EQ(file.error().kind, base::ErrorKind::kVersion);
  EXPECT_EQ(words(file.error().message),
            "The file was written by a newer Drawoff (site file version 7; this one reads up to "
            "1). Update, then open it again; the file is unchanged.");
  EXPECT_EQ(fault(with("\"version\": 1", "\"version\": 0")),
            "version is 0; it must be 1 or more. Enter the version of this form.");
  EXPECT_EQ(fault(with("\"version\": 1", "\"version\": \"1\"")),
            "version is \"1\"; it must be a number, without quotation marks. Enter the version of "
            "this form, 1 or more.");
}

TEST(SiteFile, another_form_is_refused) {
  EXPECT_EQ(fault(R"({"schema":"drawoff.round","version":9})"),
            "schema is \"drawoff.round\"; it must be \"drawoff.site\". Choose a site file.");
  EXPECT_EQ(fault(R"({"version":9})"),
            "schema is missing. Enter the name of this form, drawoff.site.");
  EXPECT_EQ(fault("[]"), "The input is []; it must be an object, in braces.");
  EXPECT_EQ(fault(R"({"schema":"drawoff.site","version":1})"),
            "entries is missing. Enter the entries, in any order.");
}

TEST(SiteFile, says_what_is_wrong_with_an_entry) {
  EXPECT_EQ(fault(with("01957a2e-4c00-7abc-8def-000000000003", "01957A2E-4C00-7ABC-8DEF-0003")),
            "entries[2].id is \"01957A2E-4C00-7ABC-8DEF-0003\"; it must be a UUID of version 7 in "
            "lower case, such as 01957a2e-4c00-7abc-8def-0123456789ab. Enter the entry's own id.");
  EXPECT_EQ(fault(with("\"at\": \"2025-03-09T09:00:00Z\"", "\"at\": \"9.3.2025\"")),
            "entries[2].at is \"9.3.2025\"; it must be a time in UTC, such as "
            "2025-03-09T08:15:00Z. Enter when the entry was made.");
  EXPECT_EQ(fault(with("09:00:00.000Z-0000-van1", "09:00:00Z-0000-van1")),
            "entries[2].clock is \"2025-03-09T09:00:00Z-0000-van1\"; it must be a time in UTC with "
            "milliseconds, a counter of four hexadecimal digits and the device, such as "
            "2025-03-09T08:15:00.000Z-0000-van1. Enter the clock by which entries are ordered.");
  EXPECT_EQ(fault(with("09:00:00.000Z-0000-van1", "09:00:00.000Z-0000-van2")),
            "entries[2].clock is \"2025-03-09T09:00:00.000Z-0000-van2\"; it must end in \"van1\", "
            "as entries[2].device says. Enter the clock that this device gave.");
  EXPECT_EQ(fault(with("09:00:00.000Z-0000-van1", "08:59:59.999Z-0000-van1")),
            "entries[2].clock is \"2025-03-09T08:59:59.999Z-0000-van1\"; it must not be earlier "
            "than entries[2].at, which is \"2025-03-09T09:00:00Z\". Enter the clock that the "
            "device gave at that time.");
  EXPECT_EQ(fault(with("\"device\": \"van1\"", "\"device\": \"van 1\"")),
            "entries[0].device is \"van 1\"; it must be 1 to 40 letters from a to z, digits, and "
            "dots, hyphens or underscores between them. Enter the name of the device.");
  EXPECT_EQ(fault(with("\"body\": {}", "\"body\": 5")),
            "entries[3].body is 5; it must be an object, in braces. Enter what the entry says.");
}

TEST(SiteFile, an_id_stands_once) {
  EXPECT_EQ(fault(with("8def-000000000003", "8def-000000000001")),
            "entries[2].id is \"01957a2e-4c00-7abc-8def-000000000001\", which entries[0] has too; "
            "an id may stand once. Remove one of the two entries, or give the later one a new id.");
}

TEST(SiteFile, only_an_earlier_entry_can_be_corrected) {
  EXPECT_EQ(fault(with("\"supersedes\": \"01957a2e-4c00-7abc-8def-000000000004\"",
                       "\"supersedes\": \"01957a2e-4c00-7abc-8def-000000000009\"")),
            "entries[4].supersedes is \"01957a2e-4c00-7abc-8def-000000000009\", and no entry here "
            "has that id; it must be the id of an earlier entry. Add that entry, or leave it out.");
  EXPECT_EQ(fault(with("\"supersedes\": \"01957a2e-4c00-7abc-8def-000000000004\"",
                       "\"supersedes\": \"01957a2e-4c00-7abc-8def-000000000005\"")),
            "entries[4].supersedes is \"01957a2e-4c00-7abc-8def-000000000005\", which leads back "
            "to entries[4] itself; an entry cannot correct itself. Enter the id of an earlier "
            "entry, or leave it out.");
  EXPECT_EQ(fault(with("\"kind\": \"photo\",",
                       "\"kind\": \"photo\", \"supersedes\": "
                       "\"01957a2e-4c00-7abc-8def-000000000005\",")),
            "entries[3].supersedes is \"01957a2e-4c00-7abc-8def-000000000005\", which leads back "
            "to entries[3] itself; an entry cannot correct itself. Enter the id of an earlier "
            "entry, or leave it out.");

  SiteFile file;
  file.entries = {entry({.id = 1, .minute = 1, .supersedes = 2}), entry({.id = 2, .minute = 2})};
  EXPECT_EQ(fault(write_site_file(file)),
            "entries[0].supersedes is \"01957a2e-4c00-7abc-8def-000000000002\", but entries[1] "
            "with that id has a later clock; only an earlier entry can be corrected. Enter the id "
            "of an earlier entry, or leave it out.");
  // A circle of three, met from outside: the entry before it is not to blame.
  file.entries = {entry({.id = 1, .minute = 9, .supersedes = 2}),
                  entry({.id = 2, .minute = 1, .supersedes = 4}),
                  entry({.id = 3, .minute = 2, .supersedes = 2}),
                  entry({.id = 4, .minute = 3, .supersedes = 3})};
  EXPECT_EQ(fault(write_site_file(file)),
            "entries[1].supersedes is \"01957a2e-4c00-7abc-8def-000000000004\", which leads back "
            "to entries[1] itself; an entry cannot correct itself. Enter the id of an earlier "
            "entry, or leave it out.");
}

TEST(SiteFile, its_words_are_in_the_catalogue) {
  const messages::Catalogue& catalogue = messages::catalogue("en");
  for (const std::string_view id : kBookMessages) {
    const std::string* text = catalogue.find(id);
    ASSERT_NE(text, nullptr) << id;
    EXPECT_EQ(messages::fault_of(*text), "") << id;
  }
  for (const std::string& id : fields::message_ids<SiteFile>()) {
    EXPECT_NE(catalogue.find(id), nullptr) << id;
  }
}

}  // namespace
}  // namespace drawoff::book
