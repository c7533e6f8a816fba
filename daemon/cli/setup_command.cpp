// setup
#include "daemon/cli/commands.h"
#include "daemon/cli/config_options.h"
#include "daemon/cli/exit_status.h"
#include "daemon/cli/progress.h"
#include "daemon/cli/sound_options.h"
#include "daemon/cli/time_option.h"
#include "daemon/cli/write_file.h"
#include "daemon/setup/config_text.h"
#include "daemon/setup/proof.h"

#include <CLI/CLI.hpp>

#include <array>
#include <filesystem>
#include <iostream>
#include <memory>
#include <stdexcept>

namespace tripline::cli {
namespace {

struct SetupOptions {
    std::string file;
    std::string room;
    std::string receiver;
    std::string voice;
    std::string soft;    ///< empty: not recorded
    std::string write;   ///< empty: nowhere
    SoundOptions sound;
    ConfigOptions config;
};

constexpr std::array statuses{
    ExitCodeText{ExitCode::good, "Settings were found, and the recording replays well with them."},
    ExitCodeText{ExitCode::limits_not_met, "No settings can be trusted to work; what to change was told."},
    ExitCodeText{ExitCode::refused, "The usage, the recording or the configuration is wrong."}};

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
    setup::Stretches stretches{span_in(options.room), span_in(options.receiver), span_in(options.voice), std::nullopt};
    if (!options.soft.empty()) stretches.soft = span_in(options.soft);
    return stretches;
}

setup::Survey survey_of(const SetupOptions& options, const setup::Stretches& stretches, const config::Settings& base) {
    Progress progress(options.file);
    return setup::survey(options.sound.source(options.file), stretches, base.station.detector.band,
                         [&](double share) { progress.show(share); });
}

ExitCode set_up(const SetupOptions& options) {
    if (!options.write.empty() && std::filesystem::exists(options.write)) {
        throw std::runtime_error(options.write + ": is there already");
    }
    const auto stretches = stretches_of(options);
    const auto base = load_or_tell(options.config);
    if (!base) return ExitCode::refused;
    const auto survey = survey_of(options, stretches, base->settings);
    const auto advice = setup::advise(survey, base->settings);
    const auto proof = setup::prove(options.sound.source(options.file), stretches, advice.settings.station);
    std::cout << "Measured:\n" << in_words(survey) << "\nDistances:\n" << in_words(advice)
              << "\nThis recording, replayed with the settings found:\n" << in_words(proof);
    if (!advice.good() || !proof.good()) {
        std::cout << "\nNo settings were written: none can be trusted as things stand.\n";
        return ExitCode::limits_not_met;
    }
    const auto text = setup::config_text(options.file, survey, advice);
    if (options.write.empty()) {
        std::cout << '\n' << text;
    } else {
        write_file(options.write, text);
        std::cout << "\nThe settings are in " << options.write << '\n';
    }
    return ExitCode::good;
}

}  // namespace

void add_setup(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("setup", "Find settings from a recording of room, receiver and voice");
    const auto options = std::make_shared<SetupOptions>();
    SetupOptions& o = *options;
    command->add_option("FILE", o.file, "Recording: microphone left, receiver right")->required();
    const auto stretch = [&](const char* name, std::string& text, const char* help) {
        return command->add_option(name, text, help)->type_name("FROM-TO");
    };
    stretch("--room", o.room, "When nobody speaks and the receiver is silent")->required();
    stretch("--receiver", o.receiver, "When only the receiver speaks")->required();
    stretch("--voice", o.voice, "When only you speak, as on the air")->required();
    stretch("--soft", o.soft, "When only you speak, as softly as ever");
    command->add_option("--write", o.write, "Write the settings there; without it they are shown")->type_name("FILE");
    add_sound_options(*command, o.sound);
    add_config_options(*command, o.config);
    command->footer(exit_status_text(statuses));
    command->callback([options, &outcome] { outcome = set_up(*options); });
}

}  // namespace tripline::cli
