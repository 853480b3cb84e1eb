#include "job.h"

#include "api/api.h"
#include "working.h"

namespace drawoff::cli {

namespace {

using api::JobLine;

std::string text_of(const std::vector<JobLine>& lines, const Console& console) {
  const Layout& layout = console.layout();
  std::string out;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const JobLine& line = lines[i];
    if (line.kind == JobLine::Kind::kRow) {
      std::vector<std::vector<std::string>> rows;
      for (; i < lines.size() && lines[i].kind == JobLine::Kind::kRow; ++i) {
        auto& row = rows.emplace_back();
        for (const base::Message& cell : lines[i].cells) row.push_back(console.say(cell));
      }
      --i;
      out += layout.rows(rows, 2);
      continue;
    }
    std::string text;
    for (const base::Message& cell : line.cells) {
      if (!text.empty()) text += ' ';
      text += console.say(cell);
    }
    switch (line.kind) {
      case JobLine::Kind::kTitle:
        out += layout.bold(layout.wrap(text));
        break;
      case JobLine::Kind::kHeading:
        out += '\n' + layout.bold(layout.wrap(text));
        break;
      case JobLine::Kind::kCaution:
        // Marked by a sign too: colour alone would be lost in a pipe and on some eyes.
        out += layout.yellow(layout.wrap("! " + text, {.first = 0, .rest = 2}));
        break;
      case JobLine::Kind::kText:
      case JobLine::Kind::kRow:
        out += layout.wrap(text);
        break;
    }
  }
  return out;
}

}  // namespace

Exit run_job(const JobWords& asked, Console& console) {
  const Console::Input input = console.read(asked.file);
  if (input.failed) return *input.failed;
  if (!asked.papers.folder.empty()) return write_papers(asked.papers, input.text, console);
  const auto job = asked.checklist ? api::checklist(input.text, asked.course, console.words())
                                   : api::job(input.text, asked.explain);
  if (!job) return console.refuse(job.error());
  if (asked.json) {
    console.write(fields::dump(job->output, 2) + '\n');
  } else {
    console.write(text_of(job->lines, console));
    if (asked.explain) console.write(working_text(job->output, console));
  }
  console.complain(job->warnings);
  return Exit::kDone;
}

}  // namespace drawoff::cli
