// A laboratory's report: any bytes, from anywhere. What is read of it can be typed as an analysis.
#include <cstdint>
#include <string_view>

#include "base/check.h"
#include "water/lab_report.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace drawoff;
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto report = water::read_lab_report(text);
  if (!report) return 0;
  for (const water::LabRow& r : report->rows) {
    if (r.use == water::RowUse::kUsed) CHECK(r.amount.value.si() >= 0);
  }
  const auto whole = fields::Table<water::AnalysisEntry>::check(report->water, {});
  if (whole) static_cast<void>(water::cross_checks(report->water, report->facts));
  return 0;
}
