// Bounds, on the project's 2-core machines: a whole site viewed in less than 300 ms, one reading
// judged in less than 1 ms, a record printed of a solved site in less than 15 ms.
#include <benchmark/benchmark.h>

#include <fstream>
#include <iterator>

#include "api/api.h"
#include "api/papers.h"
#include "base/check.h"
#include "fields/json.h"

namespace drawoff::api {
namespace {

using fields::Json;

std::string school_text() {
  std::ifstream file(std::string(DRAWOFF_REFERENCE) + "/../../examples/school.site.json");
  CHECK(file.good());
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

Json answer_to(const char* name, const Json& input) {
  auto answer = ask({.name = name, .input = input});
  CHECK(answer);
  return std::move(answer->output);
}

void view_of_a_site(benchmark::State& state) {
  const Json input = {{"site_file", *fields::parse_json(school_text())}};
  for (auto _ : state) benchmark::DoNotOptimize(answer_to("view", input));
}

void one_reading_judged(benchmark::State& state) {
  const Json view = answer_to("view", {{"site_file", *fields::parse_json(school_text())}});
  const Json& point = view["scene"]["points"].back();
  Json reading = point["like"];
  reading["value"] = 500;
  const Json input = {{"likely", point["likely"]}, {"like", point["like"]}, {"reading", reading}};
  for (auto _ : state) benchmark::DoNotOptimize(answer_to("judge", input));
}

void record_printed(benchmark::State& state) {
  fields::ReadContext context;
  const auto file = book::read_site_file(school_text(), context);
  CHECK(file);
  auto site = site_state(*file, context);
  CHECK(site);
  const auto solved = solve_for_papers(*std::move(site), fields::UnitSystem::kMetric);
  CHECK(solved);
  const paper::Fonts fonts;
  for (auto _ : state) benchmark::DoNotOptimize(print_paper(*solved, {}, fonts));
}

BENCHMARK(view_of_a_site)->Unit(benchmark::kMillisecond);
BENCHMARK(one_reading_judged)->Unit(benchmark::kMillisecond);
BENCHMARK(record_printed)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace drawoff::api
