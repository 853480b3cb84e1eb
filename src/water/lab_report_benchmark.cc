// A laboratory's report of thirty lines, read and checked. Bound: 2 ms, so that what is pasted on a
// phone is told at once.
#include <benchmark/benchmark.h>

#include <string>

#include "water/lab_report.h"

namespace drawoff::water {
namespace {

void lab_report(benchmark::State& state) {
  std::string text = "Parameter;Ergebnis;Einheit;Bestimmungsgrenze\npH-Wert;7,3;;\n";
  for (const char* line : {"Calcium;115,2;mg/l;1\n",
                           "Magnesium;12,4;mg/l;1\n",
                           "Natrium;18;mg/l;\n",
                           "Chlorid;31;mg/l;\n",
                           "Sulfat;48;mg/l;\n",
                           "Nitrat als NO3;32;mg/l;\n",
                           "Säurekapazität bis pH 4,3;5,2;mmol/l;\n",
                           "Eisen;n.n.;mg/l;0,02\n"}) {
    text += line;
  }
  for (int i = 0; i < 20; ++i) text += "Pestizid " + std::to_string(i) + ";<0,01;µg/l;\n";
  for (auto _ : state) {
    const auto report = read_lab_report(text);
    benchmark::DoNotOptimize(cross_checks(report->water, report->facts));
  }
}
BENCHMARK(lab_report)->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace drawoff::water
