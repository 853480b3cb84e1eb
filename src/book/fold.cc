#include "book/fold.h"

#include <algorithm>
#include <numeric>
#include <string_view>
#include <unordered_map>

namespace drawoff::book {

Folded fold(const SiteFile& file, const fields::Path& root) {
  const std::vector<Entry>& entries = file.entries;
  std::vector<std::size_t> order(entries.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&entries](std::size_t a, std::size_t b) {
    return comes_before(entries[a], entries[b]);
  });

  // Records in the order of their first entries, each as the entry that holds so far.
  struct Record {
    std::size_t first = 0;
    std::size_t holds = 0;
    std::size_t rank = 0;  // of what holds, in the order of time
  };
  std::vector<Record> records;
  std::unordered_map<std::string_view, std::size_t> record_of;  // by entry id
  for (std::size_t rank = 0; rank < order.size(); ++rank) {
    const std::size_t i = order[rank];
    const Entry& entry = entries[i];
    const auto corrected =
        entry.supersedes ? record_of.find(entry.supersedes->text) : record_of.end();
    std::size_t record = records.size();
    if (corrected != record_of.end()) {
      record = corrected->second;
      records[record].holds = i;
      records[record].rank = rank;
    } else {
      records.push_back({i, i, rank});
    }
    record_of.emplace(entry.id.text, record);
  }

  Folded out;
  for (std::size_t rank = 0; rank < order.size(); ++rank) {
    const Entry& entry = entries[order[rank]];
    if (entry.kind != "machine") continue;
    out.machines_said.push_back({.id = entry.id,
                                 .first = entry.id,
                                 .at = entry.at,
                                 .author = entry.author,
                                 .body = entry.body.json,
                                 .index = order[rank],
                                 .order = rank,
                                 .path = (root / "entries")[order[rank]] / "body"});
  }
  for (const Record& record : records) {
    const Entry& first = entries[record.first];
    const Entry& entry = entries[record.holds];
    const auto current = [&] {
      return Current{.id = entry.id,
                     .first = first.id,
                     .at = first.at,
                     .author = entry.author,
                     .body = entry.body.json,
                     .index = record.holds,
                     .order = record.rank,
                     .path = (root / "entries")[record.holds] / "body"};
    };
    if (entry.kind == "site") out.site = current();
    if (entry.kind == "survey") out.survey = current();
    if (entry.kind == "machine") out.machines.push_back(current());
    if (entry.kind == "reading") out.readings.push_back(current());
    if (entry.kind == "not_possible") out.not_possible.push_back(current());
    if (entry.kind == "photo") out.photos.push_back(current());
    if (entry.kind == "step") out.steps.push_back(current());
    if (entry.kind == "blend_turn") {
      out.blend_turns.push_back(current());
      out.turned_last = current();
    }
    if (entry.kind == "blend_left") out.blends_left.push_back(current());
    if (entry.kind == "blend") {
      out.blends.push_back(current());
      out.blend_turns.clear();  // they are of the one before
    }
    if (entry.kind == "handed_over") out.handed_over = current();
    if (entry.kind == "start_up") {
      out.start_ups.push_back(current());
      out.steps.clear();  // they are of the one before
    }
  }
  return out;
}

}  // namespace drawoff::book
