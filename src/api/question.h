// A question of the api: an input struct, an output struct, and the function between them.
//
// Reading, errors, schema, help and writing come from the field tables of the two structs, so a
// question is one line in question list (api.cc):
//
//   question<TubeInput, TubeOutput, &ask_tube>("tube")
//
// where `base::Result<TubeOutput> ask_tube(const TubeInput&, Working&)`. One whose answer has
// sentences for people takes a third parameter, `const messages::Catalogue& words`.
#pragma once

#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "api/api.h"
#include "api/working.h"
#include "fields/read.h"
#include "fields/schema.h"
#include "fields/write.h"
#include "messages/catalogue.h"

namespace drawoff::api {

struct Question {
  std::string_view name;
  base::Result<Answer> (*ask)(const fields::Json& input,
                              bool explain,
                              const messages::Catalogue& words);
  fields::Json (*schema)();
  std::vector<fields::HelpLine> (*help)();
  std::vector<std::string> (*message_ids)();
};

// {"result": …} lines as JSON.
fields::Json written(const Working& working);
// Adds what "working" looks like to the schema of an output: the same for every question.
void add_working(fields::Json& output_schema);

template <class In, auto kCompute>
concept SpeaksToPeople =
    std::is_invocable_v<decltype(kCompute), const In&, Working&, const messages::Catalogue&>;

template <class In, class Out, auto kCompute>
constexpr Question question(std::string_view name) {
  return {.name = name,
          .ask = [](const fields::Json& input,
                    bool explain,
                    const messages::Catalogue& words) -> base::Result<Answer> {
            fields::ReadContext context;
            TRY(const In in, fields::read<In>(input, context));
            Working working(explain);
            const auto computed = [&] {
              if constexpr (SpeaksToPeople<In, kCompute>)
                return kCompute(in, working, words);
              else
                return kCompute(in, working);
            };
            TRY(const Out out, computed());
            Answer answer{.output = fields::write(out), .warnings = std::move(context.warnings)};
            if (explain) answer.output["working"] = written(working);
            return answer;
          },
          .schema =
              [] {
                const auto& words = messages::catalogue("en");
                auto output = fields::schema<Out>(words);
                add_working(output);
                return fields::Json{{"input", fields::schema<In>(words)},
                                    {"output", std::move(output)}};
              },
          .help = [] { return fields::help<In>(); },
          .message_ids =
              [] {
                auto ids = fields::message_ids<In>();
                for (auto& id : fields::message_ids<Out>()) ids.push_back(std::move(id));
                return ids;
              }};
}

}  // namespace drawoff::api
