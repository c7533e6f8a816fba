// explain
#include "daemon/cli/captures.h"
#include "daemon/cli/channel_note.h"
#include "daemon/cli/commands.h"
#include "daemon/cli/config_options.h"
#include "daemon/cli/exit_status.h"
#include "daemon/cli/progress.h"
#include "daemon/cli/sound_options.h"
#include "daemon/cli/time_option.h"
#include "daemon/explain/lived.h"
#include "daemon/explain/story.h"
#include "daemon/logbook/book.h"
#include "daemon/logbook/line.h"
#include "daemon/replay/memory_file.h"
#include "daemon/replay/read_events.h"
#include "daemon/text/print.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <array>
#include <filesystem>
#include <iostream>
#include <memory>
#include <optional>
#include <stdexcept>
#include <utility>

namespace tripline::cli {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Duration around = 500ms;

struct ExplainOptions {
    std::string file;      ///< or a time of day, of a running station
    std::string time;      ///< empty: all transmissions
    std::string ago;       ///< of a running station; empty: none given
    std::string memory;    ///< empty: the station has heard nothing yet
    bool memory_found = false;   ///< not named by the operator, but found beside the recording
    std::optional<logbook::WallTime> began;   ///< of the file, where it was written for this
    Duration within{0};    ///< the moment is all of this from the time on
    DeskOptions desk;
    SoundOptions sound;
    ConfigOptions config;

    bool of_a_running_station() const {
        return !ago.empty() || ((time_in(file) || logbook::time_of(file) || meant_as_time()) && !std::filesystem::exists(file));
    }
    /// Such as 25:61:00.
    bool meant_as_time() const { return file.find(':') != std::string::npos && file.find_first_not_of("0123456789:.") == std::string::npos; }
};

constexpr std::array statuses{
    ExitCodeText{ExitCode::good, "It was explained."},
    ExitCodeText{ExitCode::refused, "The usage, the recording or the configuration is wrong, or no station answers."}};

constexpr auto of_a_running_station =
    "A running station is explained from what its black box keeps, which it writes for that:\n"
    "  tripline explain 21:14:03                          (UTC, as the station's log)\n"
    "  tripline explain --ago 0:40 [--socket PATH | --config FILE, its settings]";

logbook::WallTime moment_in(const ExplainOptions& options, logbook::WallTime now) {
    if (!options.file.empty() && !options.ago.empty()) throw std::runtime_error("--ago goes without FILE and TIME");
    if (options.ago.empty()) {
        if (const auto at = logbook::time_of(options.file)) return *at;
        if (const auto at = last_time_of_day(options.file, now)) return *at;
        throw std::runtime_error(options.file + " is no file, and as a time of day not H:MM or H:MM:SS (UTC). " + of_a_running_station);
    }
    const auto ago = time_in(options.ago);
    if (!ago) throw std::runtime_error(options.ago + ": is not a time: seconds, M:SS or H:MM:SS");
    return now - std::chrono::round<std::chrono::milliseconds>(*ago);
}

/// Has the station write what it keeps, and names the moment in that.
ExplainOptions captured(ExplainOptions options) {
    if (!options.time.empty() || !options.memory.empty())
        throw std::runtime_error("a second TIME and --memory go with a recording: a running station writes its own");
    options.desk.config = options.config.file;
    locate(options.desk);
    const auto now = logbook::wall_now();
    const auto at = moment_in(options, now);
    if (at > now) throw std::runtime_error(options.file + " is still to come");
    refuse_forgotten(options.desk, at);
    if (!options.ago.empty()) options.within = exactness_of(options.ago);
    else if (options.file.find('.') == std::string::npos) options.within = 1s;
    const auto all = capture(options.desk);
    const Written& written = covering(all, at);
    options.file = written.sound.string();
    options.began = written.began;
    const Duration middle = at - written.began;
    const Duration begin = options.ago.empty() ? middle : std::max(middle - options.within / 2, Duration::zero());
    options.time = print("%.3f", replay::to_seconds(begin));
    options.config.file = written.beside(".toml").string();
    if (std::filesystem::exists(written.beside(".memory"))) options.memory = written.beside(".memory").string();
    options.memory_found = !options.memory.empty();
    std::cout << "Written by the black box: " << options.file << '\n'
              << "Its times count from " << logbook::time_text(written.began) << "; " << logbook::time_text(at) << " is "
              << print("%.3f s", replay::to_seconds(middle))
              << (begin == middle ? "" : print("; the stretch meant is from %.3f s to %.3f s", replay::to_seconds(begin), replay::to_seconds(begin + options.within)))
              << "\n\n";
    return options;
}

/// A capture that nothing was named for is explained with the settings and the memory that lie beside it.
ExplainOptions with_its_own(ExplainOptions options) {
    const auto beside = [&](const char* extension) { return std::filesystem::path(options.file).replace_extension(extension); };
    if (!options.config.file.empty() || !options.memory.empty()) return options;
    if (!std::filesystem::exists(beside(".toml")) || !std::filesystem::exists(beside(".events.jsonl"))) return options;
    options.config.file = beside(".toml").string();
    std::cout << "With what lies beside it: " << options.config.file;
    if (std::filesystem::exists(beside(".memory"))) std::cout << ", " << (options.memory = beside(".memory").string());
    options.memory_found = !options.memory.empty();
    std::cout << "\n\n";
    return options;
}

/// A transmission that began within the moment is what is meant by it.
Duration meant(const explain::Account& account, Duration at, Duration within) {
    const auto begun = std::ranges::find_if(account.spells, [&](const replay::Spell& spell) {
        return spell.keyed >= at && spell.decided < at + within;
    });
    return begun == account.spells.end() || account.spell_at(at) ? at : begun->keyed;
}

/// What the station itself did, where its events lie beside the recording.
std::optional<explain::Account> lived_beside(const std::filesystem::path& sound, const replay::RecordingSource& source) {
    const auto events = std::filesystem::path(sound).replace_extension(".events.jsonl");
    if (!std::filesystem::exists(events)) return std::nullopt;
    const replay::Recording recording(source);
    return explain::lived_account(replay::read_events(events), recording.rate(), to_duration(recording.length(), recording.rate()));
}

/// The settings file that a capture has beside it, and nothing else.
bool own_settings(const ExplainOptions& options) {
    const auto own = std::filesystem::path(options.file).replace_extension(".toml");
    return options.config.overlays.empty() && std::filesystem::path(options.config.file).filename() == own.filename();
}

std::string all_of(const explain::Account& account, const std::optional<explain::Account>& lived, const station::Settings& settings) {
    const std::string missing = lived ? explain::missing_in_a_replay(*lived, account.length) : std::string();
    const std::string caveat =
        "The events beside the recording have what this replay lacks: " + missing + ". From there on it may not be what happened.\n\n";
    return (missing.empty() ? "" : caveat) + explain::all_in_words(account, settings);
}

std::string moment_of(const explain::Account& account, const std::optional<explain::Account>& lived, Duration at,
                      const ExplainOptions& options, const explain::Subject& subject) {
    const Duration asked = std::exchange(at, meant(lived ? *lived : account, at, options.within));
    const explain::Moment moment{at, at == asked ? options.within : Duration{0}};
    const auto like = lived ? explain::likeness(*lived, account, at, options.within, own_settings(options)) : explain::Likeness{};
    if (!like.worth_telling) return like.text;
    const auto cures = like.text.empty() ? explain::Cures::sought : explain::Cures::none;
    return like.text + explain::moment_in_words(account, moment, subject, cures);
}

/// Where the station began safe and was armed by a command, it is replayed with its commands: without them nothing would key.
void give_commands(explain::Subject& subject, const std::optional<explain::Account>& lived, Duration at) {
    if (!lived || subject.settings.station.start_mode != station::Mode::safe) return;
    subject.commands = explain::commands_until_armed(*lived, at);
    if (subject.commands.empty()) return;
    std::cout << "The station was safe at the recording's beginning; replayed with its commands: " << explain::missing_in_a_replay(*lived, at) << ".\n\n";
}

explain::Subject subject_of(const ExplainOptions& options, const config::Settings& settings, Duration at) {
    const auto source = replay::for_station(options.sound.source(options.file), settings.audio.receiver_channel);
    const replay::Recording recording(source);
    const Duration end = to_duration(recording.length(), recording.rate());
    if (at > end) throw std::runtime_error(options.file + print(": ends at %.1f s, before ", replay::to_seconds(end)) + options.time);
    explain::Subject subject{source, settings};
    if (options.memory.empty()) return subject;
    subject.memory = replay::read_memory(options.memory, recording.rate());
    if (options.memory_found && !replay::fits(subject.memory, settings.station, recording.rate())) {
        std::cout << "What the station remembered does not go with these settings: this is without it, by an ear that has learnt nothing yet.\n\n";
        subject.memory.clear();
    }
    return subject;
}

ExitCode explain_recording(const ExplainOptions& options) {
    const auto at = options.time.empty() ? Duration::zero() : time_in(options.time);
    if (!at) throw std::runtime_error(options.time + ": is not a time: seconds, M:SS or H:MM:SS");
    const auto loaded = load_or_tell(options.config);
    if (!loaded) return ExitCode::refused;
    if (options.time.empty()) note_safe_start(loaded->settings.station);
    auto subject = subject_of(options, loaded->settings, *at);
    auto lived = lived_beside(options.file, subject.source);
    if (lived) lived->began = options.began;
    if (!options.time.empty() && own_settings(options)) give_commands(subject, lived, *at);
    Progress progress(options.file);
    auto account = explain::account_of(subject, {*at - around, *at + options.within + around}, [&](double share) { progress.show(share); });
    account.began = options.began;
    account.of_a_capture = lived.has_value() && own_settings(options);
    note(channel_note(subject.source));
    std::cout << (options.time.empty() ? all_of(account, lived, loaded->settings.station)
                                       : moment_of(account, lived, *at, options, subject));
    return ExitCode::good;
}

ExitCode explain_any(const ExplainOptions& options) {
    if (options.of_a_running_station()) return explain_recording(captured(options));
    if (options.file.empty()) throw std::runtime_error(std::string("FILE is required. ") + of_a_running_station);
    return explain_recording(with_its_own(options));
}

}  // namespace

void add_explain(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand(
        "explain", "Tell why the station keyed, did not key, or let go, and what would change it");
    const auto options = std::make_shared<ExplainOptions>();
    ExplainOptions& o = *options;
    command->add_option("FILE", o.file, "Recording, microphone left and receiver right; or a time of day of a running "
                                        "station, UTC");
    command->add_option("TIME", o.time, "The moment in question: seconds, M:SS or H:MM:SS; without it, every "
                                        "transmission is explained");
    command->add_option("--ago", o.ago, "The moment in question of a running station, so long ago, to a tenth of that time; 0:40.0 for the exact moment")->type_name("TIME");
    command->add_option("--memory", o.memory, "Begin with what the station remembered: the .memory file of a capture")
        ->type_name("FILE");
    add_socket_option(*command, o.desk);
    add_sound_options(*command, o.sound);
    add_config_options(*command, o.config);
    command->get_option("--config")
        ->excludes("--socket")
        ->description("Settings file; of a running station, to find it (its control.socket): what was in force it writes itself. "
                      "Without it, what lies beside a capture, else the defaults");
    command->footer(of_a_running_station + std::string("\n\n") + exit_status_text(statuses));
    command->callback([options, &outcome] { outcome = explain_any(*options); });
}

}  // namespace tripline::cli
