// inspect
#include "daemon/cli/commands.h"
#include "daemon/cli/progress.h"
#include "daemon/cli/sound_options.h"
#include "daemon/inspect/inspection.h"

#include <CLI/CLI.hpp>

#include <algorithm>
#include <iostream>
#include <memory>
#include <stdexcept>

namespace tripline::cli {
namespace {

struct InspectOptions {
    std::string file;
    SoundOptions sound;
};

ExitCode inspect_file(const InspectOptions& options) {
    replay::Recording recording(options.sound.source(options.file));
    const auto length = static_cast<double>(recording.length().count);
    if (to_duration(recording.length(), recording.rate()) < inspect::shortest_recording) {
        throw std::runtime_error(options.file + ": is shorter than 5 s, too little to judge");
    }
    inspect::Inspection inspection(recording.rate(), !options.sound.no_receiver);
    Progress progress(options.file);
    double done = 0;
    for (auto block = recording.next(); !block.microphone.empty(); block = recording.next()) {
        inspection.push(block.microphone, block.receiver);
        done += static_cast<double>(block.microphone.size());
        progress.show(done / length);
    }
    const auto findings = inspection.findings();
    std::cout << inspect::to_text(findings);
    return std::ranges::all_of(findings, &inspect::Finding::good) ? ExitCode::good : ExitCode::limits_not_met;
}

}  // namespace

void add_inspect(CLI::App& program, ExitCode& outcome) {
    auto* command = program.add_subcommand("inspect", "Look at the health of the inputs in a recording");
    const auto options = std::make_shared<InspectOptions>();
    command->add_option("FILE", options->file, "Recording: microphone left, receiver right")->required();
    add_sound_options(*command, options->sound);
    command->callback([options, &outcome] { outcome = inspect_file(*options); });
}

}  // namespace tripline::cli
