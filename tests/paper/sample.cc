// paper_sample NAME: prints the sample document of that name as a PDF on standard output, for
// tests/paper/run.mjs, and scripts without a font on standard error. The samples between them hold
// every kind of block and both page sizes.
//
// Standard input holds files, each as "NAME SIZE\n" and its bytes: fonts as "Deva-Regular" and
// "Deva-Bold", in pairs, and "photo", a JPEG. So the WebAssembly build needs no file system.
#include <cstddef>
#include <cstdio>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/check.h"
#include "paper/document.h"
#include "paper/outline.h"

namespace drawoff::paper {
namespace {

Drawing gauge() {
  Drawing drawing{.width = 120, .height = 38};
  const auto pipe = [&](const std::vector<Spot>& points, Ink ink, bool dashed) {
    drawing.items.push_back(
        Path{.segments = polyline(points), .stroke = {.ink = ink, .width = 0.9, .dashed = dashed}});
  };
  pipe({{4, 18}, {40, 18}}, Ink::kRaw, false);
  pipe({{80, 12}, {116, 12}}, Ink::kProduct, false);
  pipe({{80, 24}, {116, 24}}, Ink::kReject, true);
  drawing.items.push_back(Path{.segments = rectangle({.at = {40, 8}, .width = 40, .height = 20}),
                               .stroke = {.ink = Ink::kLine, .width = 0.5},
                               .fill = Ink::kPaper});
  drawing.items.push_back(
      Path{.segments = rectangle({.at = {92, 15}, .width = 18, .height = 5}), .fill = Ink::kBand});
  using Kind = Segment::Kind;
  drawing.items.push_back(
      Path{.segments =
               {{.kind = Kind::kMove, .to = {44, 28}},
                {.kind = Kind::kCurve, .to = {76, 8}, .control_1 = {60, 28}, .control_2 = {60, 8}}},
           .stroke = {.ink = Ink::kQuiet, .width = 0.25, .dashed = true}});
  drawing.items.push_back(Words{
      .at = {60, 19}, .text = "Membrane", .size = 3.4, .bold = true, .align = Align::kMiddle});
  drawing.items.push_back(
      Words{.at = {4, 15}, .text = "Supply 3.1 bar", .size = 2.8, .ink = Ink::kRaw});
  drawing.items.push_back(Words{
      .at = {116, 10}, .text = "42 L/h", .size = 2.8, .ink = Ink::kProduct, .align = Align::kEnd});
  drawing.items.push_back(Words{.at = {116, 30},
                                .text = "The reject runs to the drain over an air gap.",
                                .size = 2.6,
                                .ink = Ink::kMarked,
                                .align = Align::kEnd,
                                .width = 34});
  return drawing;
}

Document record(const PageSize& page) {
  Table readings{.columns = {{.head = "Test point", .share = 3},
                             {.head = "Expected", .share = 2, .align = Align::kEnd},
                             {.head = "Reading", .share = 1.4, .align = Align::kEnd},
                             {.head = "What it says", .share = 3}}};
  for (int i = 1; i <= 34; ++i) {
    readings.rows.push_back(
        {{"Point " + std::to_string(i)},
         {std::to_string(i * 3) + "–" + std::to_string(i * 3 + 9) + " µS/cm"},
         {std::to_string(i * 3 + 4) + " µS/cm", i % 7 == 0 ? Weight::kBold : Weight::kRegular},
         {i % 7 == 0 ? "Above what this water, pressure and temperature explain; look "
                       "at the seal first."
                     : "As it should be"}});
  }
  return {
      .title = "Commissioning record – Ostrel school",
      .language = "en",
      .page = page,
      .made = "2025-03-14T10:30:00Z",
      .footer = "Ostrel school, drinking-water unit in the kitchen",
      .page_label =
          [](const PageNumber& at) {
            return "Page " + std::to_string(at.page) + " of " + std::to_string(at.pages);
          },
      .blocks = {
          Title{.text = "Commissioning record", .below = "Ostrel school, kitchen · 14 March 2025"},
          Text{.text =
                   "The unit was fitted, flushed and tested. At 17.5 °C and 3.1 bar it makes "
                   "42 L/h of product and keeps back 95 % of the dissolved solids; that is what "
                   "the model of this machine on this water expects. Efficient, first-class "
                   "office fittings: AV To Wa ≤ 5 ± 0.2, H₂O, m², 10⁻³, → −3 K, ≈ ½ Ω."},
          Rows{.rows = {{"Raw water", "Borehole, 640 µS/cm at 25 °C"},
                        {"Product", "31 µS/cm", Weight::kBold},
                        {"Recovery",
                         "48 %, set by the restrictor; the blend valve is shut and sealed"},
                        {"Next visit", "September 2025"}}},
          Caution{
              .word = "Caution",
              .text =
                  "Unplug the machine before you open it. Shut the supply and let the pressure "
                  "off before you open a housing or a tube. Never drink flush or reject water."},
          Figure{.drawing = gauge(), .caption = "The water path, with what was read"},
          Beside{.sides =
                     {{.share = 3,
                       .blocks = {Heading{"How to reach us"},
                                  Text{.text = "Scan the code to open this unit’s page, or write."},
                                  Link{.text = "unit@ostrel.example",
                                       .address = "mailto:unit@ostrel.example"}}},
                      {.share = 1,
                       .blocks = {Code{.text = "https://ostrel.example/u/01957a2e",
                                       .size = 28,
                                       .align = Align::kEnd}}}}},
          Heading{"Readings"},
          readings,
          Together{
              .blocks = {
                  Heading{"Handed over"},
                  Text{.text = "What the unit does, and what it needs, was shown to the person who "
                               "signs."},
                  Signatures{.fields = {{.caption = "Name", .value = "A. Example", .share = 2},
                                        {.caption = "Signature", .share = 2},
                                        {.caption = "Date", .value = "14 March 2025"}}}}}}};
}

Document scripts() {
  return {.title = "Scripts",
          .language = "hi",
          .blocks = {
              Title{.text = "जल परीक्षण अभिलेख", .below = "ओस्ट्रेल विद्यालय · 14 मार्च 2025"},
              Text{.text = "इस मशीन का पानी पीने योग्य बनाने के लिए क्षारीय जल को झिल्ली से छाना जाता है। "
                           "उत्पाद 42 L/h है और घुले ठोस का 95 % रोका जाता है (क्षि, र्क, श्री, द्ध, ज्ञ)।"},
              Rows{.rows = {{"कच्चा पानी", "640 µS/cm"}, {"उत्पाद", "31 µS/cm", Weight::kBold}}},
              Heading{"العربية"},
              Text{.text = "سجل التشغيل: تنتج الوحدة \u206642 L/h\u2069 من الماء (\u206695 "
                           "%\u2069) عند \u206617.5 °C\u2069، ولا حاجة "
                           "إلى ضبط آخر."},
              Heading{"עברית, Ελληνικά, Русский, ไทย, বাংলা, தமிழ், తెలుగు"},
              Text{.text = "מים לשתייה 31 µS/cm"},
              Text{.text = "Νερό πόσιμο · Питьевая вода · น้ำดื่มสะอาดสำหรับโรงเรียน · পানীয় জল ক্ষুদ্র · "
                           "குடிநீர் · త్రాగునీరు"},
              Text{.text = "Nước uống cho trường học: đã thử, ướt, ngữ. Ŝanĝo, žluťoučký kůň, "
                           "łódź, ĳs, İstanbul, "
                           "mañana, ça, Ærø."}}};
}

Document arabic(const PageSize& page) {
  return {
      .title = "سجل التشغيل",
      .language = "ar",
      .right_to_left = true,
      .page = page,
      .footer = "مدرسة أوستريل",
      .page_label =
          [](const PageNumber& at) {
            return "صفحة " + std::to_string(at.page) + " من " + std::to_string(at.pages);
          },
      .blocks = {
          Title{.text = "سجل التشغيل", .below = "مدرسة أوستريل · 14 آذار 2025"},
          Text{.text = "رُكّبت الوحدة وغُسلت واختُبرت. عند \u206617.5 °C\u2069 وضغط \u20663.1 "
                       "bar\u2069 تنتج \u206642 L/h\u2069 من الماء، "
                       "وهذا ما "
                       "يتوقعه نموذج هذه الآلة لهذا الماء. لا تشرب ماء الغسيل."},
          Caution{.word = "تنبيه", .text = "افصل الكهرباء قبل فتح الآلة، وأغلق المحبس."},
          Rows{.rows = {{"الماء الخام", "640 µS/cm"}, {"المنتج", "31 µS/cm", Weight::kBold}}},
          Table{.columns = {{.head = "نقطة القياس", .share = 2},
                            {.head = "القراءة", .align = Align::kEnd}},
                .rows = {{{"قبل الغشاء"}, {"9.8 bar"}}, {{"بعد الغشاء"}, {"9.1 bar"}}}},
          Beside{.sides = {{.share = 2, .blocks = {Text{.text = "امسح الرمز لفتح صفحة الوحدة."}}},
                           {.share = 1,
                            .blocks = {Code{.text = "https://ostrel.example/u/1",
                                            .align = Align::kEnd}}}}},
          Signatures{.fields = {{.caption = "الاسم", .share = 2},
                                {.caption = "التوقيع", .share = 2},
                                {.caption = "التاريخ"}}}}};
}

Document label() {
  return {
      .title = "Label",
      .language = "en",
      .page = kLabel,
      .blocks = {Beside{
          .sides = {
              {.share = 1.2,
               .blocks =
                   {Text{.text = "Drinking water", .size = Size::kLarge, .weight = Weight::kBold},
                    Text{.text = "Unit 7, kitchen\nMembrane due: March 2027",
                         .size = Size::kSmall}}},
              {.share = 1, .blocks = {Code{.text = "https://ostrel.example/u/7", .size = 26}}}}}}};
}

Document notice() {
  return {.title = "Notice",
          .language = "en",
          .blocks = {Text{.text = "Not for drinking",
                          .size = Size::kPoster,
                          .weight = Weight::kBold,
                          .align = Align::kMiddle},
                     Text{.text = "This tap is being flushed until 16:00.",
                          .size = Size::kLarge,
                          .align = Align::kMiddle},
                     Text{.text = "汉字 and 😀 have no font here."}}};
}

Document photo_page(const std::string& jpeg) {
  return {.title = "Photos",
          .language = "en",
          .page = kLetter,
          .blocks = {Title{.text = "Photos"},
                     Photo{.jpeg = jpeg, .width = 50, .caption = "The unit as fitted"},
                     Beside{.sides = {{.blocks = {Photo{.jpeg = jpeg, .caption = "Supply"}}},
                                      {.blocks = {Photo{.jpeg = jpeg, .caption = "Drain"}}}}}}};
}

Document sample(std::string_view name, const std::string& photo) {
  if (name == "photo") return photo_page(photo);
  if (name == "record-a4") return record(kA4);
  if (name == "record-letter") return record(kLetter);
  if (name == "scripts") return scripts();
  if (name == "arabic-a4") return arabic(kA4);
  if (name == "arabic-letter") return arabic(kLetter);
  if (name == "label") return label();
  CHECK(name == "notice");
  return notice();
}

// Standard input, by name.
std::map<std::string, std::string> read_files() {
  std::string input;
  std::vector<char> part(1 << 16);
  for (std::size_t got = part.size(); got > 0;) {
    got = std::fread(part.data(), 1, part.size(), stdin);
    input.append(part.data(), got);
  }
  std::map<std::string, std::string> files;
  for (std::size_t at = 0; at < input.size();) {
    const std::size_t space = input.find(' ', at);
    const std::size_t line = input.find('\n', at);
    CHECK(space < line && line < input.size());
    const std::size_t size = std::stoul(input.substr(space + 1, line - space - 1));
    files[input.substr(at, space - at)] = input.substr(line + 1, size);
    at = line + 1 + size;
  }
  return files;
}

}  // namespace
}  // namespace drawoff::paper

int main(int count, char** words) {
  using namespace drawoff::paper;
  CHECK(count == 2);
  const std::map<std::string, std::string> files = read_files();
  std::vector<ScriptFont> scripts;
  std::string photo;
  for (const auto& [name, bytes] : files) {
    if (name == "photo") photo = bytes;
    const std::size_t end = name.find("-Regular");
    if (end == std::string::npos) continue;
    const std::string script = name.substr(0, end);
    scripts.push_back({.script = script, .regular = bytes, .bold = files.at(script + "-Bold")});
  }
  const auto fonts = Fonts::create(scripts);
  CHECK(fonts);
  const auto printed = print(sample(words[1], photo), *fonts);
  CHECK(printed);
  std::fwrite(printed->pdf.data(), 1, printed->pdf.size(), stdout);
  for (const std::string& script : printed->missing_scripts) {
    std::fprintf(stderr, "%s\n", script.c_str());
  }
  return 0;
}
