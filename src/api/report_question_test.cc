#include "api/report_question.h"

#include <regex>
#include <string>

#include "api/question_test.h"
#include "api/water_question.h"

namespace drawoff::api {
namespace {

constexpr Question kReport = question<ReportInput, ReportOutput, &ask_report>("report");

std::string input_of(const std::string& text) { return fields::dump(fields::Json{{"text", text}}); }
fields::Json report_of(const std::string& text) { return output_of(kReport, input_of(text)); }

double ion(const fields::Json& out, const char* key) {
  if (!out["water"].is_object()) return -1;
  return number_of(out["water"]["ions_mg_L"], key);
}

// Sentences, one a line, with plain blanks.
std::string doubts_of(const fields::Json& out) {
  std::string all;
  for (const auto& d : out["doubts"]) all += *d.get_ptr<const std::string*>() + "\n";
  return std::regex_replace(all, std::regex("\u00a0|\u202f"), " ");
}

// ---- The same water in every layout: 115.2 Ca, 0.02 mg/L of iron not reached, 32 NO3, pH 7.3 ----

void expect_the_water(const fields::Json& out) {
  EXPECT_DOUBLE_EQ(ion(out, "Ca"), 115.2);
  EXPECT_NEAR(ion(out, "NO3"), 32, 0.05);
  EXPECT_DOUBLE_EQ(number_of(out["water"], "pH"), 7.3);
  EXPECT_NEAR(number_of(out["water"], "alkalinity_mg_L_CaCO3"), 280, 0.5);
  EXPECT_NEAR(number_of(out["water"]["ions_mg_L"]["Fe"], "lt"), 0.02, 1e-12);
}

TEST(ReportQuestion, a_line_a_substance) {
  expect_the_water(
      report_of("Lab of the county\nDate,2026-03-14\nParameter,Result,Unit,Detection limit\n"
                "pH,7.3,,\nCalcium,115.2,mg/L,1\nNitrate (as NO3),32,mg/L,\n"
                "Alkalinity,280,mg/L as CaCO3,\nIron,ND,mg/L,0.02\n"));
}

TEST(ReportQuestion, decimal_commas_and_degrees) {
  const auto out = report_of(
      "Parameter;Ergebnis;Einheit\npH-Wert;7,3;\nCalcium;115,2;mg/l\nNitrat als NO3;32,0;mg/l\n"
      "Säurekapazität bis pH 4,3;5,595;mmol/l\nEisen;<0,02;mg/l\nGesamthärte;16,1;°dH\n");
  expect_the_water(out);
  EXPECT_NEAR(number_of(out, "hardness_mg_L_CaCO3"), 287.4, 0.1);
}

TEST(ReportQuestion, units_in_the_names) {
  expect_the_water(
      report_of("Parameter,Value\npH,7.3\nCalcium (mg/L),115.2\nNitrate-N (mg/L),7.229\n"
                "\"Alkalinity, total (mg/L as CaCO3)\",280\nIron (µg/L),< 20\n"));
}

TEST(ReportQuestion, without_headings) {
  expect_the_water(
      report_of("pH,7.3\nCa,115.2,mg/L\nNO3,32,mg/L as NO3\nAlkalinity,280,mg/L\nFe,<0.02,mg/L\n"));
}

TEST(ReportQuestion, words_from_a_page) {
  expect_the_water(
      report_of("pH: 7.3\nCalcium 115.2 mg/L\nNitrate (as NO3) 32 mg/L\n"
                "Total alkalinity 280 mg/L\nIron <0.02 mg/L\n"));
}

TEST(ReportQuestion, a_line_a_sample) {
  const std::string text =
      "Sample,pH,Calcium (mg/L),Nitrate as NO3 (mg/L),Alkalinity (mg/L),Iron (mg/L)\n"
      "Borehole,7.3,115.2,32,280,<0.02\nTank,7.9,80,30,200,0.4\n";
  expect_the_water(report_of(text));
  EXPECT_NE(doubts_of(report_of(text)).find("The report has 2 samples. This is \"Borehole\""),
            std::string::npos);
  const auto tank = output_of(kReport, fields::dump(fields::Json{{"text", text}, {"sample", 1}}));
  EXPECT_DOUBLE_EQ(ion(tank, "Ca"), 80);
}

TEST(ReportQuestion, units_on_a_line_of_their_own) {
  expect_the_water(
      report_of("Sample;pH;Ca;NO3;Alkalinity;Fe\n;;mg/L;mg/L as NO3;mg/L as CaCO3;µg/L\n"
                "B1;7.3;115.2;32;280;<20\n"));
}

TEST(ReportQuestion, a_column_a_sample) {
  const std::string text =
      "Parameter,Unit,Well 1,Well 2\npH,,7.3,6.9\nCalcium,mg/L,115.2,60\nNitrate as NO3,mg/L,32,5\n"
      "Alkalinity,mg/L as CaCO3,280,150\nIron,mg/L,<0.02,1.2\n";
  expect_the_water(report_of(text));
  const auto second = output_of(kReport, fields::dump(fields::Json{{"text", text}, {"sample", 1}}));
  EXPECT_DOUBLE_EQ(ion(second, "Fe"), 1.2);
}

TEST(ReportQuestion, tabs_and_bars) {
  expect_the_water(
      report_of("Parameter\tResult\tUnit\npH\t7.3\t\nCalcium\t115.2\tmg/L\nNitrate as NO3\t32\t"
                "mg/L\nAlkalinity\t280\tmg/L\nIron\t<0.02\tmg/L\n"));
  expect_the_water(
      report_of("| Parameter | Result | Unit |\n|---|---|---|\n| pH | 7.3 | |\n"
                "| Calcium | 115.2 | mg/L |\n| Nitrate as NO3 | 32 | mg/L |\n"
                "| Alkalinity | 280 | mg/L |\n| Iron | <0.02 | mg/L |\n"));
}

TEST(ReportQuestion, equivalents_and_amounts) {
  expect_the_water(
      report_of("Parameter,Result,Unit\npH,7.3,\nCalcium,115.2,mg/L\nNitrate,0.5161,mmol/L\n"
                "Alkalinity,5.595,meq/L\nIron,<20,µg/L\n"));
}

TEST(ReportQuestion, json_of_either_kind) {
  expect_the_water(report_of(R"json([{"parameter":"pH","result":7.3},
    {"parameter":"Calcium","result":115.2,"unit":"mg/L"},
    {"parameter":"Nitrate as NO3","result":"32","unit":"mg/L"},
    {"parameter":"Alkalinity","result":280,"unit":"mg/L"},
    {"parameter":"Iron","result":"<0.02","unit":"mg/L"}])json"));
  expect_the_water(report_of(R"json({"lab":"x","results":{"pH":7.3,"Calcium (mg/L)":115.2,
    "Nitrate as NO3 (mg/L)":32,"Alkalinity (mg/L)":280,"Iron (mg/L)":{"lt":0.02}}})json"));
  expect_the_water(report_of(R"json({"pH":{"value":7.3},"Calcium":{"value":115.2,"unit":"mg/L"},
    "Nitrate":{"value":32,"unit":"mg/L","basis":"as NO3"},"Alkalinity":{"value":280,"unit":"mg/L"},
    "Iron":{"value":"<0.02","unit":"mg/L"}})json"));
}

// The exchange schema's own headings and values [wqx2024].
TEST(ReportQuestion, the_exchange_schema) {
  const auto out = report_of(
      "Activity ID,Activity Start Date,Characteristic Name,Method Speciation,Result Sample "
      "Fraction,"
      "Result Value,Result Unit,Result Detection Condition,"
      "Result Detection/Quantitation Limit Measure,Result Detection/Quantitation Limit Unit\n"
      "a1,2026-03-14,pH,,Total,7.3,None,,,\na1,2026-03-14,Calcium,,Dissolved,115.2,mg/L,,,\n"
      "a1,2026-03-14,Nitrate,as N,Dissolved,7.229,mg/L,,,\n"
      "a1,2026-03-14,\"Alkalinity, total\",as CaCO3,Total,280,mg/L,,,\n"
      "a1,2026-03-14,Iron,,Dissolved,,,Not Detected,20,ug/L\n"
      "a1,2026-03-14,Specific conductance,,Total,640,uS/cm,,,\n"
      "a1,2026-03-14,\"Temperature, water\",,,12,deg C,,,\n"
      "a1,2026-03-14,Escherichia coli,,Total,3,cfu/100mL,,,\n");
  expect_the_water(out);
  EXPECT_DOUBLE_EQ(number_of(out["water"], "temperature_C"), 12);
  EXPECT_NEAR(number_of(out, "conductivity_25_uS_cm"), 640, 1e-9);
  EXPECT_EQ(out["faecal_indicators"], "present");
  EXPECT_EQ(out["date"], "2026-03-14");
}

// What comes out goes into `calc water` as it is.
TEST(ReportQuestion, its_water_is_an_analysis) {
  const auto out = report_of(
      "pH,7.3\nCa,115.2,mg/L\nMg,12,mg/L\nNa,18,mg/L\nAlkalinity,280,mg/L\n"
      "Cl,31,mg/L\nSO4,48,mg/L\nTemperature,12,°C\n");
  constexpr Question kWater = question<water::AnalysisEntry, WaterOutput, &ask_water>("water");
  const auto water = output_of(kWater, fields::dump(out["water"]));
  EXPECT_GT(number_of(water, "tds_mg_L"), 500);
}

// A page as a laboratory prints it: the worked example of the shared notes on balances
// (7.786 and 7.558 meq/L, +1.48 %) passes its check and says nothing.
TEST(ReportQuestion, a_whole_report_raises_no_doubt) {
  const auto out = report_of(
      "Parameter,Result,Unit\npH,7.6,\nTemperature,14,°C\nCalcium,115,mg/L\n"
      "Magnesium,12,mg/L\nSodium,18,mg/L\nPotassium,2,mg/L\nBicarbonate,300,mg/L\n"
      "Chloride,36,mg/L\nSulfate,62,mg/L\nNitrate as NO3,22,mg/L\n");
  EXPECT_EQ(doubts_of(out), "");
}

struct Bad {
  const char* text;
  const char* sentence;
};

constexpr const char* kWhole = "pH,7.3\nTemperature,12,°C\nCalcium,115,mg/L\n";

// Lines that are added to a good report, and the sentence that each must give.
constexpr Bad kBadLines[] = {
    {"Nitrate,32,mg/L",
     "Line 4, \"Nitrate\": the report does not say as what nitrate is counted. It was taken as "
     "32.0 mg/L of nitrate itself; if it is counted as N, it is 142 mg/L. Ask the laboratory."},
    {"Nitrite,1,mg/L",
     "Line 4, \"Nitrite\": the report does not say as what nitrite is counted. It was taken as "
     "1.00 mg/L of nitrite itself; if it is counted as N, it is 3.28 mg/L. Ask the laboratory."},
    {"Ammonium,1,mg/L",
     "Line 4, \"Ammonium\": the report does not say as what ammonium is counted. It was taken as "
     "1.00 mg/L of ammonium itself; if it is counted as N, it is 1.29 mg/L. Ask the laboratory."},
    {"Phosphate,1,mg/L",
     "Line 4, \"Phosphate\": the report does not say as what phosphate is counted. It was taken as "
     "1.00 mg/L of phosphate itself; if it is counted as P, it is 3.07 mg/L. Ask the laboratory."},
    {"Iron,ND,mg/L",
     "Line 4, \"Iron\": not detected, but the report does not say from what amount on it would "
     "have been. Ask for the detection limit. It counts as not analysed."},
    {"Iron,<0,mg/L",
     "Line 4, \"Iron\": not detected, but the report does not say from what amount on it would "
     "have been. Ask for the detection limit. It counts as not analysed."},
    {"Iron,BDL,mg/L",
     "Line 4, \"Iron\": not detected, but the report does not say from what amount on it would "
     "have been. Ask for the detection limit. It counts as not analysed."},
    {"Sodium,18,furlongs",
     "Line 4, \"Sodium\": the unit \"furlongs\" is not one that is known for it. It was left out."},
    {"Sodium,18,NTU",
     "Line 4, \"Sodium\": a number in \"NTU\" makes no amount of this. It was left out."},
    {"Sodium,18,mg/L as N",
     "Line 4, \"Sodium\": a number in \"mg/L as N\", counted as N, makes no amount of this. It was "
     "left out."},
    {"Silica,1,meq/L",
     "Line 4, \"Silica\": a number in \"meq/L\" makes no amount of this. It was left out."},
    {"Sodium,eighteen,mg/L",
     "Line 4, \"Sodium\": \"eighteen\" is not a result that can be read. It was left out."},
    {"Sodium,1.2.3,mg/L",
     "Line 4, \"Sodium\": \"1.2.3\" is not a result that can be read. It was left out."},
    {"Sodium,see annex,mg/L",
     "Line 4, \"Sodium\": \"see annex\" is not a result that can be read. It was left out."},
    {"Sodium,-4,mg/L", "Line 4, \"Sodium\": \"-4\" is below nothing. It was left out."},
    {"Sodium,>200,mg/L",
     "Line 4, \"Sodium\": \">200\" only says more than that. Ask the laboratory for the number. It "
     "was left out."},
    {"Sodium,18", "Line 4, \"Sodium\": no unit. It was taken as mg/L. Look at the paper."},
    {"Arsenic,4",
     "Line 4, \"Arsenic\": no unit, and mg/L or µg/L would be a thousandfold apart. It was left "
     "out."},
    {"Lead,0.004",
     "Line 4, \"Lead\": no unit, and mg/L or µg/L would be a thousandfold apart. It was left out."},
    {"Arsenic,4,µg/L",
     "The report gives arsenic of no form. It was entered as As(V), which a membrane holds back "
     "well; As(III) it does not. Have both forms analysed."},
    {"Hardness,16",
     "Line 4, \"Hardness\": no unit, and a degree of hardness is many mg/L. It was left out."},
    {"Conductivity,640", "Line 4, \"Conductivity\": no unit. It was taken as µS/cm."},
    {"Conductivity,640,mg/L",
     "Line 4, \"Conductivity\": the unit \"mg/L\" is not one that is known for it. It was left "
     "out."},
    {"Sodium,\"1,234\",mg/L",
     "Line 4, \"Sodium\": \"1,234\" can be read two ways, by its comma or point. It was taken as "
     "1,234. Look at the paper."},
    {"Sodium,10 - 20,mg/L",
     "Line 4, \"Sodium\": \"10 - 20\" is a range. Its middle, 15, was taken."},
    {"Sodium,90,g/L",
     "Line 4, \"Sodium\": 90,000 mg/L is more than any drinking-water source holds. Look at the "
     "unit. It was left out."},
    {"Ca,60,mg/L",
     "Line 4, \"Ca\": given twice, as 115 mg/L and as 60.0 mg/L. The first was kept. Ask the "
     "laboratory which is right."},
    {"Total coliforms,12,MPN/100 mL",
     "Line 4, \"Total coliforms\": coliforms were found. They may come from soil or biofilm; have "
     "E. coli looked for."},
    {"E. coli,<10,cfu/100 mL",
     "Line 4, \"E. coli\": \"<10\" is not a result that can be read. It was left out."},
    {"Nitrate + nitrite,5,mg/L",
     "Nitrate and nitrite are given only together. They were entered as nitrate."},
    {"Total iron,0.8,mg/L",
     "Only total iron is given. It was entered as if all of it were dissolved; some may be rust."},
    {"Atrazine,<0.01,µg/L", "1 line names something that is not looked at here: Atrazine."},
    {"Hardness,400,mg/L\nMagnesium,5,mg/L",
     "The reported hardness is 400 mg/L as CaCO3; calcium and magnesium make 308 mg/L. One of them "
     "is off."},
    {"Hardness,400,mg/L", "The magnesium was found from the hardness less what the rest of it is."},
    {"Alkalinity,280,mg/L\nBicarbonate,200,mg/L",
     "The alkalinity is 280 mg/L as CaCO3, but bicarbonate and carbonate make 164 mg/L. The "
     "alkalinity was kept. Ask the laboratory."},
    {"Chloride,31,mg/L",
     "The balance of charges cannot be checked: Mg, Na, SO4, alkalinity was not analysed."},
    {"Mg,12,mg/L\nNa,18,mg/L\nAlkalinity,280,mg/L\nCl,131,mg/L\nSO4,48,mg/L",
     "The negative charges are 16% more than the positive ones; 5.0% is allowed. A positive ion is "
     "missing or too low, or a negative one too high."},
    {"Mg,12,mg/L\nNa,118,mg/L\nAlkalinity,280,mg/L\nCl,31,mg/L\nSO4,48,mg/L",
     "The positive charges are 23% more than the negative ones; 2.0% is allowed. A negative ion is "
     "missing or too low, or a positive one too high."},
    {"Mg,12,mg/L\nNa,18,mg/L\nAlkalinity,280,mg/L\nCl,31,mg/L\nSO4,48,mg/L\nConductivity,1640,µS/"
     "cm",
     "The reported conductivity is 1,640 µS/cm; what was analysed makes 686 µS/cm. One of the two "
     "is off."},
    {"Mg,12,mg/L\nNa,18,mg/L\nAlkalinity,280,mg/L\nCl,31,mg/L\nSO4,48,mg/L\nTDS,1200,mg/L",
     "The reported dissolved solids are 1,200 mg/L; what was analysed makes 565 mg/L, or 392 mg/L "
     "when dried. One of them is off."},
    {"Iron,0.8,mg/L\nTotal "
     "iron,0.2,mg/L\nMg,12,mg/L\nNa,18,mg/L\nAlkalinity,280,mg/L\nCl,31,mg/L\nSO4,48,mg/L",
     "The dissolved iron is more than the total. One of them is off."},
};

// Whole reports, and the sentence of a doubt.
constexpr Bad kBadReports[] = {
    {"Temperature,12,°C\nCalcium,115,mg/L",
     "The report has no pH. Read it at the tap and enter it: without it there is no analysis."},
    {"pH,7.3\nCalcium,115,mg/L",
     "The report does not say how warm the water is. 15 °C was taken; read it at the tap."},
    {"pH,17\nTemperature,12,°C\nCalcium,115,mg/L",
     "Line 1, \"pH\": \"17\" is no pH, which lies between 0 and 14. It was left out."},
    {"pH,7\nTemperature,120,°C\nCalcium,115,mg/L",
     "Line 2, \"Temperature\": \"120\" is no temperature of water, 0 to 60 °C. It was left out."},
    {"Parameter,Result,Unit\npH,7,3,\nCalcium,115,2,mg/L",
     "Line 3, \"Calcium\": there are more cells than headings. If it has a decimal comma, put the "
     "number in quotation marks, or part the cells by semicolons. It was left out."},
};

// Refused, and the sentence of the error.
constexpr Bad kRefused[] = {
    {" \n", "There is nothing in the report. Paste its lines, or choose its file."},
    {"%PDF-1.7\nx",
     "This is a file of a program, not text. Save it as CSV, or copy its words and paste them."},
    {"Dear customer,\nthank you for your order.",
     "No line of this report names a substance that Drawoff knows. Write one result a line: name, "
     "result, unit, such as Calcium, 115, mg/L."},
    {"Parameter,Result\n\"Calcium,115\nSodium,18",
     "The quotation mark that opens on line 2 never closes. Close it, or take it out."},
    {"[1, 2]",
     "No line of this report names a substance that Drawoff knows. Write one result a line: name, "
     "result, unit, such as Calcium, 115, mg/L."},
};

TEST(ReportQuestion, bad_lines_get_their_sentence) {
  static_assert(std::size(kBadLines) + std::size(kBadReports) + std::size(kRefused) >= 40);
  for (const Bad& bad : kBadLines) {
    SCOPED_TRACE(bad.text);
    const auto out = report_of(std::string(kWhole) + bad.text + "\n");
    EXPECT_NE(doubts_of(out).find(std::string(bad.sentence) + "\n"), std::string::npos)
        << doubts_of(out);
    EXPECT_DOUBLE_EQ(ion(out, "Ca"), 115);  // the rest of the report is not lost
  }
  for (const Bad& bad : kBadReports) {
    SCOPED_TRACE(bad.text);
    const auto out = report_of(bad.text);
    EXPECT_NE(doubts_of(out).find(std::string(bad.sentence) + "\n"), std::string::npos)
        << doubts_of(out);
  }
  for (const Bad& bad : kRefused) {
    SCOPED_TRACE(bad.text);
    EXPECT_EQ(error_of(kReport, input_of(bad.text)), bad.sentence);
  }
  EXPECT_EQ(error_of(kReport, R"({"text": "pH,7", "sample": 3})"),
            "sample is 3, but the samples go from 0 to 0. Choose one of them.");
  EXPECT_NE(error_of(kReport, input_of(std::string(290000, 'a'))).find("at most 256 KiB are read"),
            std::string::npos);
}

}  // namespace
}  // namespace drawoff::api
