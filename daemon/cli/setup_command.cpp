// setup
#include "daemon/cli/commands.h"
#include "daemon/cli/config_options.h"
#include "daemon/cli/exit_status.h"
#include "daemon/cli/progress.h"
#include "daemon/cli/run_files.h"
#include "daemon/cli/setup_ear.h"
#include "daemon/cli/setup_terminal.h"
#include "daemon/cli/sound_options.h"
#include "daemon/cli/time_option.h"
#include "daemon/cli/write_file.h"
#include "daemon/setup/config_text.h"
#include "daemon/setup/proof.h"
#include "daemon/setup/take.h"

#include <CLI/CLI.hpp>

#include <array>
#include <cmath>
#include <filesystem>
#include <iostream>
#include <memory>
#include <stdexcept>

#include <unistd.h>

namespace tripline::cli {
namespace {

struct SetupOptions {
    std::string file;    ///< empty: a live session
    std::string from;    ///< a recording to be played in it; empty: sound devices
    std::string record;  ///< where the session is kept; empty: nowhere
    double take = 0;     ///< length of a take in seconds; 0: as each step has it
    std::string room;
    std::string receiver;
    std::string voice;
    std::string soft;    ///< empty: not recorded
    bool keep = false;   ///< takes with trouble as well
    std::string write;   ///< empty: nowhere
    SoundOptions sound;
    ConfigOptions config;
};

constexpr std::array statuses{
    ExitCodeText{ExitCode::good, "Settings were found, and the sound that was measured replays well with them."},
    ExitCodeText{ExitCode::limits_not_met, "No settings can be trusted to work; what to change was told."},
    ExitCodeText{ExitCode::refused, "The usage, the sound or the configuration is wrong, or the session was given up."}};

replay::Span span_in(const std::string& text) {
    const auto dash = text.find('-');
    const auto from = time_in(text.substr(0, dash));
    const auto to = dash == std::string::npos ? std::nullopt : time_in(text.substr(dash + 1));
    if (!from || !to || *from >= *to) {
        throw std::runtime_error(text + ": is not FROM-TO, two times in seconds, M:SS or H:MM:SS");
    }
    return {*from, *to};
}

setup::Stretches stretches_of(const SetupOptions& options) {
    setup::Stretches stretches{span_in(options.room), {}, span_in(options.voice), {}};
    if (!options.receiver.empty()) stretches.receiver = span_in(options.receiver);
    if (!options.soft.empty()) stretches.soft = span_in(options.soft);
    return stretches;
}

setup::Survey survey_of(const replay::RecordingSource& source, const setup::Stretches& stretches, const config::Settings& base) {
    Progress progress(source.file.string());
    return setup::survey(source, stretches, base.station.detector.band, [&](double share) { progress.show(share); });
}

/// What both a recording and a live session end in.
ExitCode settle(const SetupOptions& options, const replay::RecordingSource& source, const std::string& origin,
                const setup::Stretches& stretches, const config::Settings& base) {
    const auto survey = survey_of(source, stretches, base);
    const auto advice = setup::advise(survey, base);
    const auto proof = setup::prove(source, stretches, advice.settings.station);
    std::cout << "Measured:\n" << in_words(survey) << "\nDistances, in the voice band:\n" << in_words(advice)
              << "\nThis recording, replayed with the settings found:\n" << in_words(proof);
    if (!advice.good() || !proof.good()) {
        std::cout << "\nNo settings were written: none can be trusted as things stand.\n";
        return ExitCode::limits_not_met;
    }
    for (const std::string& note : {setup::short_take_note(stretches), setup::beside_tune(survey)}) {
        if (!note.empty()) std::cout << '\n' << note;
    }
    const auto text = setup::config_text(origin, survey, advice);
    if (options.write.empty()) {
        std::cout << '\n' << text;
    } else {
        write_file(options.write, text);
        std::cout << "\nThe settings are in " << options.write << '\n';
    }
    return ExitCode::good;
}

/// A file that is gone when this is, unless it is to be kept.
class SessionFile {
public:
    explicit SessionFile(const std::string& keep)
        : path_(keep.empty() ? std::filesystem::temp_directory_path() / ("tripline-setup-" + std::to_string(::getpid()) + ".wav")
                             : std::filesystem::path(keep)),
          kept_(!keep.empty()) {}
    ~SessionFile() {
        std::error_code ignored;   // it is scratch
        if (!kept_) std::filesystem::remove(path_, ignored);
    }
    SessionFile(const SessionFile&) = delete;
    SessionFile& operator=(const SessionFile&) = delete;
    const std::filesystem::path& path() const { return path_; }

private:
    std::filesystem::path path_;
    bool kept_;
};

ExitCode live_session(const SetupOptions& options, const config::Settings& base) {
    const SessionFile file(options.record);
    service::Options request;
    request.settings = base;
    request.record_to = file.path().string();
    if (!options.from.empty())
        request.recording = replay::for_station(options.sound.source(options.from), base.audio.receiver_channel);
    check_files(request, {}, options.config.file);
    SetupEar ear(request);
    SetupTerminal terminal;
    terminal.tell("Nothing is keyed in this session. A take can be repeated until it is kept; what was kept stays.");
    const bool receiver = request.recording ? !request.recording->no_receiver : base.audio.receiver_channel != 0;
    const auto stretches = setup::guide(ear, terminal, {std::chrono::milliseconds(std::lround(options.take * 1000)), receiver});
    ear.close();
    if (!stretches) {
        terminal.tell("\nGiven up; nothing was written.");
        return ExitCode::refused;
    }
    terminal.tell("");
    return settle(options, {.file = file.path()}, options.record.empty() ? "a live session" : options.record, *stretches, base);
}

void refuse_mixture(const SetupOptions& options) {
    const bool told = !options.room.empty() || !options.receiver.empty() || !options.voice.empty() || !options.soft.empty();
    if (options.file.empty() && told) throw std::runtime_error("--room, --receiver, --voice and --soft go with a recording");
    if (options.file.empty() && options.keep) throw std::runtime_error("--keep goes with a recording; a session asks");
    if (options.file.empty()) return;
    if (options.sound.no_receiver && !options.receiver.empty()) throw std::runtime_error("--receiver and --no-receiver exclude each other");
    if (options.room.empty() || options.voice.empty() || (options.receiver.empty() && !options.sound.no_receiver)) {
        throw std::runtime_error("a recording needs --room, --voice, and --receiver or --no-receiver; without one there is a live session");
    }
    if (!options.from.empty() || !options.record.empty() || options.take > 0) {
        throw std::runtime_error("--from, --record and --take go with a live session, not with a recording");
    }
}

/// The checks of a session's takes; true when a recording's are good, or are to be kept.
bool takes_are_good(const SetupOptions& options, const replay::RecordingSource& source, const setup::Stretches& stretches) {
    const auto found = setup::troubles(source, stretches);
    for (const std::string& trouble : found) std::cout << "TROUBLE: " << trouble << '\n';
    if (found.empty()) return true;
    if (options.keep) {
        std::cout << '\n';
        return true;
    }
    std::cout << "\nNo settings were written: record these parts anew, or give better times for them.\n"
                 "--keep measures them all the same.\n";
    return false;
}

/// The stretches are checked first: a message about them is worth more than one about their sound.
ExitCode measure_recording(const SetupOptions& options, const config::Settings& base) {
    const replay::RecordingSource source = options.sound.source(options.file);
    const setup::Stretches stretches = stretches_of(options);
    setup::check(source, stretches);
    if (!takes_are_good(options, source, stretches)) return ExitCode::limits_not_met;
    return settle(options, source, options.file, stretches, base);
}

ExitCode set_up(const SetupOptions& options) {
    refuse_mixture(options);
    if (!options.write.empty() && std::filesystem::exists(options.write)) {
        throw std::runtime_error(options.write + ": is there already");
    }
    const auto base = load_or_tell(options.config);
    if (!base) return ExitCode::refused;
    if (options.file.empty()) return live_session(options, base->settings);
    return measure_recording(options, base->settings);
}

}  // namespace

void add_setup(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("setup", "Find settings in a guided session, or from a recording of room, receiver and voice");
    const auto options = std::make_shared<SetupOptions>();
    SetupOptions& o = *options;
    command->add_option("FILE", o.file, "Recording: microphone left, receiver right; without it a live session");
    command->add_option("--from", o.from, "Play a recording in real time as the session's sound")->type_name("FILE");
    command->add_option("--record", o.record, "Keep the session's sound (WAV)")->type_name("FILE");
    command->add_option("--take", o.take, "Length of each take of the session")->type_name("SECONDS")->check(CLI::Range(5.0, 120.0));
    const auto stretch = [&](const char* name, std::string& text, const char* help) {
        return command->add_option(name, text, help)->type_name("FROM-TO");
    };
    stretch("--room", o.room, "When nobody speaks and the receiver is silent");
    stretch("--receiver", o.receiver, "When only the receiver speaks");
    stretch("--voice", o.voice, "When only you speak, as on the air");
    stretch("--soft", o.soft, "When only you speak, as softly as ever");
    command->add_flag("--keep", o.keep, "Measure parts of a recording with trouble in them all the same");
    command->add_option("--write", o.write, "Write the settings there; without it they are shown")->type_name("FILE");
    add_sound_options(*command, o.sound);
    add_config_options(*command, o.config);
    command->footer(exit_status_text(statuses));
    command->callback([options, &outcome] { outcome = set_up(*options); });
}

}  // namespace tripline::cli
