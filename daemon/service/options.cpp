#include "daemon/service/options.h"

#include "daemon/audio/recording_player.h"
#include "daemon/audio/sound_card.h"
#include "daemon/guard/kept_plan.h"

#include <filesystem>

namespace tripline::service {

std::optional<black_box::Settings> black_box_of(const config::BlackBoxSettings& settings) {
    const std::string state = guard::state_folder();
    std::filesystem::path folder = settings.folder;
    if (folder.empty() && !state.empty()) folder = std::filesystem::path(state) / "captures";
    if (folder.empty() || settings.length == Duration::zero()) return std::nullopt;
    constexpr std::uint64_t megabyte = 1'000'000;
    return black_box::Settings{settings.length, folder, static_cast<std::uint64_t>(settings.budget_mb) * megabyte};
}

std::string why_no_black_box(const config::BlackBoxSettings& settings) {
    if (settings.length == Duration::zero()) return "there is no black box: black_box.keep_s is 0";
    if (!black_box_of(settings)) return "there is no black box: black_box.folder is not set, and no service manager made a state folder";
    return "there is no black box yet: it begins when the daemon is started anew";
}

guard::Plan plan_of(const config::Settings& settings) {
    guard::Plan plan = guard::make_plan(settings.lines, settings.station, settings.guard);
    if (settings.audio.priority > 0) plan.priority = std::min(99, settings.audio.priority + 10);
    else plan.priority = 0;
    return plan;
}

KeyingThread::Setup keying_setup(const Options& options) {
    const audio::Settings& sound = options.settings.audio;
    const bool live = !options.recording;
    return {.plan = plan_of(options.settings),
            .guard_program = guard::guard_program(),
            .limits = {.stall = sound.stall,
                       .lifeless = live ? sound.lifeless : Duration{0},
                       .monitor = live && audio::monitor_need(sound).inputs > 0},
            .priority = sound.priority > 0 ? std::min(99, sound.priority + 5) : 0};
}

OpenSource opener(const Options& options, audio::Pulse& pulse) {
    if (options.recording) {
        return [recording = replay::for_station(*options.recording, options.settings.audio.receiver_channel)]() -> std::unique_ptr<audio::Source> {
            return std::make_unique<audio::RecordingPlayer>(recording);
        };
    }
    return [sound = options.settings.audio, &pulse]() -> std::unique_ptr<audio::Source> {
        return std::make_unique<audio::SoundCard>(sound, pulse);
    };
}

std::string numbered(const std::string& path, unsigned number) {
    if (path.empty() || number <= 1) return path;
    constexpr std::string_view of_events = ".events.jsonl";  // one extension: the file lies beside a recording
    const std::string extension = path.ends_with(of_events) ? std::string(of_events) : std::filesystem::path(path).extension().string();
    return path.substr(0, path.size() - extension.size()) + '.' + std::to_string(number) + extension;
}

std::string events_file(const Options& options, unsigned opened) {
    std::error_code ignored;
    const auto there = std::filesystem::status(options.events_to, ignored).type();
    const bool whole = there == std::filesystem::file_type::regular || there == std::filesystem::file_type::not_found;
    return whole ? numbered(options.events_to, opened + 1) : options.events_to;
}

}  // namespace tripline::service
