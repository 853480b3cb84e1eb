// drawoff: the engine in the terminal. Reads the command line and hands over to job.h, calc.h or
// serve.h; everything it says is in the catalogue, everything it knows is in the engine.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <csignal>
#include <exception>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "api/api.h"
#include "calc.h"
#include "console.h"
#include "fields/quote.h"
#include "help.h"
#include "job.h"
#include "serve.h"
#include "sign.h"
#include "verify.h"

namespace drawoff::cli {
namespace {

using base::Message;

// The language of the sentences about the command line itself, which is not read yet.
std::string language_in(const std::vector<std::string>& words) {
  std::string language = "en";
  for (std::size_t i = 0; i < words.size(); ++i) {
    constexpr std::string_view kOption = "--language";
    if (words[i] == kOption && i + 1 < words.size()) language = words[i + 1];
    if (words[i].compare(0, kOption.size() + 1, "--language=") == 0) {
      language = words[i].substr(kOption.size() + 1);
    }
  }
  return language;
}

struct CommandLine {
  explicit CommandLine(const Console& console);

  CLI::App app;
  CLI::App* job_command = nullptr;
  CLI::App* calc_command = nullptr;
  CLI::App* serve_command = nullptr;
  CLI::App* sign_command = nullptr;
  CLI::App* verify_command = nullptr;
  JobWords job;
  CalcWords calc;
  ServeWords serve;
  SignWords sign;
  VerifyWords verify;
  std::string language;  // empty: not said
  bool help = false;
  bool version = false;

 private:
  void add_common(CLI::App& command, const Console& console);
};

void CommandLine::add_common(CLI::App& command, const Console& console) {
  command.set_help_flag();  // our own, with the words of the catalogue
  command.allow_extras();   // refused by us, with a sentence
  command.add_option("--language", language, console.say("cli.option.language"));
  command.add_flag("--help,-h", help, console.say("cli.option.help"));
}

CommandLine::CommandLine(const Console& console) {
  app.require_subcommand(0, 1);
  job_command = app.add_subcommand("job");
  job_command->add_option("FILE", job.file, console.say("cli.option.file"));
  job_command->add_flag("--json", job.json, console.say("cli.option.json"));
  job_command->add_flag("--explain", job.explain, console.say("cli.option.explain"));
  job_command->add_flag("--checklist", job.checklist, console.say("cli.option.checklist"));
  job_command->add_flag("--sanitise", job.course.sanitise, console.say("cli.option.sanitise"));
  job_command->add_flag(
      "--membrane-in", job.course.membrane_in, console.say("cli.option.membrane_in"));
  job_command->add_option("--papers", job.papers.folder, console.say("cli.option.papers"));
  job_command->add_option("--page", job.papers.page, console.say("cli.option.page"));
  job_command->add_option("--units", job.papers.units, console.say("cli.option.units"));
  job_command->add_option("--address", job.papers.address, console.say("cli.option.address"));
  job_command->add_option("--pictures", job.papers.pictures, console.say("cli.option.pictures"));
  job_command->add_option("--key", job.papers.key, console.say("sign.option.key"));
  job_command->add_option("--by", job.papers.by, console.say("sign.option.by"));
  job_command->add_option("--at", job.papers.at, console.say("sign.option.at"));
  job_command->add_option("--firm", job.papers.firm, console.say("cli.option.firm"));
  job_command->add_option("--telephone", job.papers.telephone, console.say("cli.option.telephone"));
  job_command->add_option(
      "--next-visit", job.papers.next_visit, console.say("cli.option.next_visit"));
  calc_command = app.add_subcommand("calc");
  calc_command->add_option("NAME", calc.name, console.say("cli.option.name"));
  calc_command->add_option("--in", calc.in, console.say("cli.option.in"));
  calc_command->add_flag("--explain", calc.explain, console.say("cli.option.explain"));
  calc_command->add_flag("--ndjson", calc.ndjson, console.say("cli.option.ndjson"));
  calc_command->add_flag("--schema", calc.schema, console.say("cli.option.schema"));
  calc_command->add_flag("--list", calc.list, console.say("cli.option.list"));
  serve_command = app.add_subcommand("serve");
  serve_command->add_option("--port", serve.port, console.say("serve.option.port"));
  serve_command->add_option("--tls", serve.tls, console.say("serve.option.tls"))
      ->expected(2)
      ->multi_option_policy(CLI::MultiOptionPolicy::Throw);
  serve_command->add_option("--address", serve.address, console.say("serve.option.address"));
  serve_command->add_option("--app", serve.app, console.say("serve.option.app"));
  sign_command = app.add_subcommand("sign");
  sign_command->add_option("FILE", sign.file, console.say("cli.option.file"));
  sign_command->add_option("--key", sign.key, console.say("sign.option.key"));
  sign_command->add_option("--by", sign.by, console.say("sign.option.by"));
  sign_command->add_option("--at", sign.at, console.say("sign.option.at"));
  sign_command->add_option("--attach", sign.attach, console.say("sign.option.attach"))
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  verify_command = app.add_subcommand("verify");
  verify_command->add_option("FILE", verify.file, console.say("verify.option.file"));
  verify_command->add_option(
      "--attachments", verify.attachments, console.say("verify.option.attachments"));
  verify_command->add_option(
      "--fingerprint", verify.fingerprint, console.say("verify.option.fingerprint"));
  verify_command->add_flag("--json", verify.json, console.say("cli.option.json"));
  for (CLI::App* command :
       {&app, job_command, calc_command, serve_command, sign_command, verify_command}) {
    add_common(*command, console);
  }
  app.add_flag("--version", version, console.say("cli.option.version"));
}

std::vector<std::pair<std::string, std::string>> options_of(const CLI::App& command) {
  std::vector<std::pair<std::string, std::string>> out;
  for (const CLI::Option* option : command.get_options()) {
    const std::string name =
        option->get_positional() ? option->get_name(true) : option->get_name(false, true);
    out.emplace_back(name, option->get_description());
  }
  return out;
}

std::string help_of(const CommandLine& line, const Console& console) {
  if (*line.job_command) {
    return help_text(
        {.usage = {"drawoff job FILE [--json] [--explain] [--language LANGUAGE]",
                   "drawoff job FILE --checklist [--sanitise] [--membrane-in] [--json]",
                   "drawoff job FILE --papers FOLDER [--page A4|Letter] [--units metric|us] "
                   "[--address URL] [--pictures FOLDER] [--key KEY --by NAME [--at TIME]] "
                   "[--firm NAME] [--telephone NUMBER] [--next-visit DATE]"},
         .about = "cli.job.about",
         .notes = "cli.job.notes",
         .commands = {},
         .options = options_of(*line.job_command)},
        console);
  }
  if (*line.calc_command && !line.calc.name.empty()) {
    const std::string& name = line.calc.name;
    return help_text({.usage = {"drawoff calc " + name + " [--in FILE] [--explain] [--ndjson]",
                                "drawoff calc " + name + " --schema"},
                      .about = "question." + name,
                      .notes = "",
                      .commands = {},
                      .options = {}},
                     console) +
           fields_text(name, console);
  }
  if (*line.calc_command) {
    return help_text({.usage = {"drawoff calc NAME [--in FILE] [--explain] [--ndjson]",
                                "drawoff calc NAME --schema",
                                "drawoff calc NAME --help",
                                "drawoff calc --list"},
                      .about = "cli.calc.about",
                      .notes = "cli.calc.notes",
                      .commands = {},
                      .options = options_of(*line.calc_command)},
                     console);
  }
  if (*line.serve_command) {
    return help_text({.usage = {"drawoff serve [--port N] [--app FOLDER]",
                                "drawoff serve --tls CERT KEY [--address A] [--port N]"},
                      .about = "serve.about",
                      .notes = "serve.notes",
                      .commands = {},
                      .options = options_of(*line.serve_command)},
                     console);
  }
  if (*line.sign_command) {
    return help_text({.usage = {"drawoff sign FILE --key KEY --by NAME [--at TIME] "
                                "[--attach FILE]... >RECORD"},
                      .about = "sign.about",
                      .notes = "sign.notes",
                      .commands = {},
                      .options = options_of(*line.sign_command)},
                     console);
  }
  if (*line.verify_command) {
    return help_text({.usage = {"drawoff verify FILE [--attachments FOLDER] [--fingerprint F] "
                                "[--json]"},
                      .about = "verify.about",
                      .notes = "verify.notes",
                      .commands = {},
                      .options = options_of(*line.verify_command)},
                     console);
  }
  return help_text({.usage = {"drawoff job FILE",
                              "drawoff calc NAME [--in FILE]",
                              "drawoff serve",
                              "drawoff sign FILE --key KEY --by NAME",
                              "drawoff verify FILE"},
                    .about = "cli.about",
                    .notes = "cli.notes",
                    .commands = {{"job", "cli.job.about"},
                                 {"calc", "cli.calc.about"},
                                 {"serve", "serve.about"},
                                 {"sign", "sign.about"},
                                 {"verify", "verify.about"}},
                    .options = options_of(line.app)},
                   console);
}

Exit refuse_usage(const Console& console, const Message& message) {
  console.complain(message);
  return Exit::kUsage;
}

// What was given that nothing here expects, with what was perhaps meant.
Exit refuse_extra(const CommandLine& line, const std::string& word, const Console& console) {
  std::vector<std::string> known;
  const CLI::App& command = *line.job_command      ? *line.job_command
                            : *line.calc_command   ? *line.calc_command
                            : *line.serve_command  ? *line.serve_command
                            : *line.sign_command   ? *line.sign_command
                            : *line.verify_command ? *line.verify_command
                                                   : line.app;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
  }
  if (&command == &line.app) known.insert(known.end(), {"job", "calc", "serve", "sign", "verify"});
  const std::string similar = fields::nearest(word, known);
  return refuse_usage(
      console,
      {"cli.usage.extra",
       {{"word", fields::quote_text(word)}, {"similar", similar.empty() ? "none" : similar}}});
}

// CLI11 says what is wrong in English; the name of the option is all we take from it.
Exit refuse_parse(const CLI::ParseError& error, const Console& console) {
  const std::string what = error.what();
  const std::string option = what.substr(0, what.find(':'));
  if (option == "--tls") return refuse_usage(console, {"serve.usage.tls"});
  if (option.compare(0, 2, "--") == 0 && option.find(' ') == std::string::npos) {
    return refuse_usage(console, {"cli.usage.value", {{"option", fields::one_line(option)}}});
  }
  return refuse_usage(console, {"cli.usage.other"});
}

Exit run(const std::vector<std::string>& words, Console& console) {
  CommandLine line(console);
  try {
    line.app.parse(std::vector<std::string>(words.rbegin(), words.rend()));
  } catch (const CLI::ParseError& error) {
    return refuse_parse(error, console);
  }
  const std::vector<std::string> extras = line.app.remaining(true);
  if (!extras.empty()) return refuse_extra(line, extras.front(), console);
  const auto languages = messages::languages();
  if (!line.language.empty() &&
      std::find(languages.begin(), languages.end(), line.language) == languages.end()) {
    return refuse_usage(console,
                        {"cli.usage.language", {{"value", fields::quote_text(line.language)}}});
  }
  if (line.version) {
    console.write("drawoff " + std::string(api::kEngineVersion) + '\n');
    return Exit::kDone;
  }
  if (line.help) {
    const bool named = *line.calc_command && !line.calc.name.empty();
    if (named && !is_question(line.calc.name, console)) return Exit::kUsage;
    console.write(help_of(line, console));
    return Exit::kDone;
  }
  if (*line.job_command && !line.job.file.empty()) {
    if (!line.job.papers.folder.empty() &&
        (line.job.json || line.job.explain || line.job.checklist)) {
      return refuse_usage(console, {"cli.usage.papers_alone"});
    }
    line.job.papers.language = line.language;
    return is_papers(line.job.papers, console) ? run_job(line.job, console) : Exit::kUsage;
  }
  if (*line.calc_command && (line.calc.list || !line.calc.name.empty())) {
    return run_calc(line.calc, console);
  }
  if (*line.serve_command) return run_serve(line.serve, console);
  if (*line.sign_command) {
    for (const std::string* needed : {&line.sign.file, &line.sign.key, &line.sign.by}) {
      if (needed->empty()) return refuse_usage(console, {"sign.usage"});
    }
    return run_sign(line.sign, console);
  }
  if (*line.verify_command) {
    if (line.verify.file.empty()) return refuse_usage(console, {"verify.usage"});
    return run_verify(line.verify, console);
  }
  if (*line.job_command) return refuse_usage(console, {"cli.usage.file"});
  if (*line.calc_command) return refuse_usage(console, {"cli.usage.name"});
  console.complain_plain(help_of(line, console));
  return Exit::kUsage;
}

}  // namespace
}  // namespace drawoff::cli

int main(int count, char** arguments) {
  using drawoff::cli::Exit;
  const std::vector<std::string> words(arguments + std::min(count, 1), arguments + count);
  std::signal(SIGPIPE, SIG_IGN);  // writing says so instead
  Exit status = Exit::kSoftware;
  try {
    drawoff::cli::Console console(drawoff::cli::language_in(words));
    drawoff::cli::explain_aborts(console);
    try {
      status = console.end(drawoff::cli::run(words, console));
    } catch (const std::exception&) {
      console.complain(drawoff::base::Message{"cli.bug"});
    }
  } catch (...) {
    status = Exit::kSoftware;
  }
  return static_cast<int>(status);
}
