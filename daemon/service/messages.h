// Every message the daemon can log, in one table. daemon/manual/messages.md explains
// each; a test checks that none is missing there.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace tripline::service {

enum class Severity : std::uint8_t { info, warning, error };

enum class Message : std::uint8_t {
    started,
    stopped,
    audio_opened,
    audio_absent,
    audio_ended,
    audio_hangs,
    samples_missed,
    priority_granted,
    priority_refused,
    memory_not_locked,
    running,
    stalled,
    guard_up,
    guard_down,
    guard_released,
    line_failed,
    guard_notice,
    guard_stuck,
    lines_unknown,
    plan_not_kept,
    keying_late,
    events_lost,
    recording_failed,
    recording_lost,
    events_failed,
    reloading,
    settings_in_force,
    reload_refused,
    reload_nothing,
    stop_signal,
    suspended,
    sleep_not_delayed,
    sleep_unanswered,
    mode_commanded,
    mode_taken,
    safe_kept,
    safe_not_kept,
    key_refused,
    forced_ended,
    state_not_held,
    recording_over,
    recording_broken,
    locked_out,
    self_keyed,
    not_finite,
    capture_written,
    capture_failed,
    captures_unfit,
    control_open,
    control_absent,
    control_dropped,
    control_tight,
    setting_taken,
    settings_saved,
    logbook_absent,
    logbook_failed,
    over_withdrawn,
    identify,
    page_open,
    page_absent,
    count
};

struct MessageText {
    Message id;
    Severity severity;
    std::string_view text;  ///< each {} is replaced by one argument
};

inline constexpr std::array<MessageText, static_cast<std::size_t>(Message::count)> all_messages{{
    {Message::started, Severity::info, "tripline {} starts, mode {}"},
    {Message::stopped, Severity::info, "stopped: lines released"},
    {Message::audio_opened, Severity::info, "sound open: {}"},
    {Message::audio_absent, Severity::warning, "no sound: {}; trying again until it is there"},
    {Message::audio_ended, Severity::warning, "sound stream ended by itself"},
    {Message::audio_hangs, Severity::error, "the sound system does not answer: lines released, starting afresh"},
    {Message::samples_missed, Severity::warning, "sound lost samples; gaps so far: {}"},
    {Message::priority_granted, Severity::info, "{} thread runs at real-time priority {}"},
    {Message::priority_refused, Severity::warning, "{} thread has no real-time priority: {}"},
    {Message::memory_not_locked, Severity::warning, "the daemon's memory is not locked: {}"},
    {Message::running, Severity::info, "station ready: audio flows, the guard answers"},
    {Message::stalled, Severity::error, "lines released: {}"},
    {Message::guard_up, Severity::info, "guard ready, start {}"},
    {Message::guard_down, Severity::error, "guard gone or not answering: lines are driven to rest by the next one"},
    {Message::guard_released, Severity::error, "guard released the lines: {}"},
    {Message::line_failed, Severity::error, "line {} could not be driven: {}"},
    {Message::guard_notice, Severity::warning, "guard: {}"},
    {Message::guard_stuck, Severity::error, "the guard did not end in time and {}: look at every line"},
    {Message::lines_unknown, Severity::error, "no guard could drive every line to rest: {}: {}"},
    {Message::plan_not_kept, Severity::warning, "the wiring in force could not be kept for the release: {}"},
    {Message::keying_late, Severity::warning, "keying thread woke late; so far: {}"},
    {Message::events_lost, Severity::warning, "events lost, the service did not keep up; so far: {}"},
    {Message::recording_failed, Severity::warning, "recording stopped: the disk took no more"},
    {Message::recording_lost, Severity::warning, "recording lost frames, the disk did not keep up; so far: {}"},
    {Message::events_failed, Severity::warning, "events could not all be written"},
    {Message::reloading, Severity::info, "new settings are good: key released, starting with them"},
    {Message::settings_in_force, Severity::info, "new settings are in force; the sound went on"},
    {Message::reload_refused, Severity::error, "settings left as they were: {}"},
    {Message::reload_nothing, Severity::info, "reload asked for, but there is no settings file"},
    {Message::stop_signal, Severity::info, "told to stop by {}"},
    {Message::suspended, Severity::warning, "told to stand still by the terminal (Ctrl-Z): the key opens"},
    {Message::sleep_not_delayed, Severity::warning, "the computer will not wait for the open key before it sleeps: {}"},
    {Message::sleep_unanswered, Severity::warning, "logind has announced a sleep and does not answer any more: nothing keys until it does, or the station is armed"},
    {Message::mode_commanded, Severity::info, "mode {} commanded by {}"},
    {Message::mode_taken, Severity::info, "the station is in mode {}"},
    {Message::safe_kept, Severity::warning, "mode safe, as the station was left: nothing keys until it is armed"},
    {Message::safe_not_kept, Severity::warning, "whether the station is safe could not be kept for the next start: {}"},
    {Message::key_refused, Severity::warning, "mode keyed refused: {}"},
    {Message::forced_ended, Severity::info, "the forced key ends with the new settings; until it is forced again or armed, nothing keys"},
    {Message::state_not_held, Severity::warning, "a second daemon of this station would not be noticed: {}"},
    {Message::recording_over, Severity::info, "recording is over"},
    {Message::recording_broken, Severity::error, "recording ended early: {}"},
    {Message::locked_out, Severity::warning, "transmission ended: {}; locked out until {}"},
    {Message::self_keyed, Severity::warning, "keyed {} times running by what sounds when the receiver is unmuted: waiting longer after each unmute"},
    {Message::not_finite, Severity::warning, "a sample was not a number: the chain was reset, key released"},
    {Message::capture_written, Severity::info, "black box written: {}"},
    {Message::capture_failed, Severity::warning, "black box not written: {}"},
    {Message::captures_unfit, Severity::warning, "the black box will not be able to write: {}"},
    {Message::control_open, Severity::info, "control socket open: {}"},
    {Message::control_absent, Severity::warning, "no control socket: {}"},
    {Message::control_dropped, Severity::warning, "client of the control socket dropped; so far: {}"},
    {Message::control_tight, Severity::warning, "no file descriptor was left for who came to the control socket; so far: {}"},
    {Message::setting_taken, Severity::info, "setting {} asked for by {}"},
    {Message::settings_saved, Severity::info, "settings saved to {} by {}"},
    {Message::logbook_absent, Severity::warning, "no station log: {}"},
    {Message::logbook_failed, Severity::warning, "overs could not all be logged"},
    {Message::over_withdrawn, Severity::warning, "no over logged: the guard was lost before it told of a closed key"},
    {Message::identify, Severity::info, "time to identify the station"},
    {Message::page_open, Severity::info, "page served at {}; tripline page prints its address"},
    {Message::page_absent, Severity::error, "no page: {}"},
}};

constexpr const MessageText& text_of(Message message) { return all_messages[static_cast<std::size_t>(message)]; }

consteval bool in_order() {
    for (std::size_t i = 0; i < all_messages.size(); ++i) {
        if (static_cast<std::size_t>(all_messages[i].id) != i) return false;
    }
    return true;
}
static_assert(in_order(), "a row of the table stands at its message's place");

}  // namespace tripline::service
