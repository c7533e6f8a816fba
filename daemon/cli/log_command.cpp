// log: the overs, from the files of the station's log.
#include "daemon/cli/commands.h"
#include "daemon/cli/installed_settings.h"
#include "daemon/logbook/book.h"
#include "daemon/logbook/line.h"
#include "daemon/logbook/settings.h"

#include <CLI/CLI.hpp>

#include <cerrno>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <limits>
#include <memory>
#include <numeric>
#include <sstream>
#include <stdexcept>
#include <system_error>
#include <vector>

namespace tripline::cli {
namespace {

struct LogOptions {
    std::string file = logbook::log_path({}, installed_state);
    std::string config;   ///< settings file that names it instead; empty: none given
    bool csv = false;
    std::size_t last = 0;
};

/// The old files first.
std::string whole_log(const std::string& path) {
    std::vector<std::string> texts;  // the newest first: a file that is renamed meanwhile is read twice, and never missed
    std::string why;
    for (int number = 0; number <= logbook::Book::most_old_files; ++number) {
        const std::string name = number == 0 ? path : path + "." + std::to_string(number);
        using Kind = std::filesystem::file_type;
        std::error_code ignored;
        const Kind kind = std::filesystem::status(name, ignored).type();
        const bool seen = kind != Kind::none && kind != Kind::not_found;   // if not, opening tells why
        if (seen && kind != Kind::regular) {
            if (why.empty()) why = "it is not a regular file";   // and may have no end
            continue;
        }
        errno = 0;
        std::ifstream file(name, std::ios::binary);
        if (!file) {
            if (why.empty()) why = std::generic_category().message(errno);
            continue;
        }
        std::ostringstream text;
        if (file.peek() != std::ifstream::traits_type::eof()) text << file.rdbuf();
        if (texts.empty() || text.str() != texts.back()) texts.push_back(text.str());
    }
    if (texts.empty()) throw std::runtime_error(path + ": cannot be read: " + why);
    return std::accumulate(texts.rbegin(), texts.rend(), std::string());
}

/// Overs and what was missed, in the order of time.
void print(const logbook::Log& log, bool csv) {
    if (csv) std::cout << logbook::csv_head << '\n';
    auto missed = log.missed.begin();
    const auto print_missed = [&](logbook::WallTime before) {
        for (; missed != log.missed.end() && *missed < before; ++missed)
            std::cout << (csv ? logbook::csv_line(*missed) : logbook::missed_text(*missed)) << '\n';
    };
    for (const auto& over : log.overs) {
        print_missed(over.began);
        std::cout << (csv ? logbook::csv_line(over) : logbook::over_text(over)) << '\n';
    }
    print_missed(logbook::WallTime::max());
}

/// The last overs, and what was missed since the first of them.
void shorten(logbook::Log& log, std::size_t last) {
    if (last == 0 || log.overs.size() <= last) return;
    log.overs.erase(log.overs.begin(), log.overs.end() - static_cast<std::ptrdiff_t>(last));
    std::erase_if(log.missed, [&](logbook::WallTime at) { return at < log.overs.front().began; });
}

std::string path_of(const LogOptions& options) {
    if (options.config.empty()) return options.file;
    const std::string path = logbook::log_path(named_settings(options.config).logbook, installed_state);
    if (path.empty()) throw std::runtime_error(options.config + ": logbook.file is none, so the station keeps no log");
    return path;
}

ExitCode print_log(const LogOptions& options) {
    const std::string path = path_of(options);
    auto log = logbook::read_log(whole_log(path));
    if (log.strange > 0 && log.overs.empty() && log.missed.empty()) {
        throw std::runtime_error(path + ": is no log of a station");
    }
    shorten(log, options.last);
    print(log, options.csv);
    if (log.strange > 0) std::cerr << path << ": " << log.strange << " lines are damaged and were left out\n";
    return ExitCode::good;
}

}  // namespace

void add_log(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("log", "Print the overs of the station's log");
    const auto options = std::make_shared<LogOptions>();
    command->add_option("--file", options->file, "The log, as logbook.file says")->type_name("FILE")->capture_default_str();
    command->add_option("-c,--config", options->config, "Settings file of the station: the log is the one that it names")
        ->type_name("FILE")
        ->excludes("--file");
    command->add_flag("--csv", options->csv, "As CSV (RFC 4180), with a head");
    command->add_option("--last", options->last, "The last ones only")
        ->type_name("COUNT")
        ->check(CLI::Range(1, std::numeric_limits<int>::max()).description(""));
    command->callback([options, &outcome] { outcome = print_log(*options); });
}

}  // namespace tripline::cli
