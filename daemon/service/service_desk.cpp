// What the service lays out at the desk, and how it obeys what is asked for there.
#include "config/keys.h"
#include "config/live.h"
#include "daemon/control/claim.h"
#include "daemon/control/other_station.h"
#include "daemon/service/service.h"
#include "daemon/service/texts.h"
#include "daemon/station/names.h"

#include <unistd.h>

#include <algorithm>
#include <cstdlib>

namespace tripline::service {

namespace {

/// Of a list of folders, as the service manager gives them; null: none.
std::string first_of(const char* folders) {
    const std::string all(folders == nullptr ? "" : folders);
    return all.substr(0, all.find(':'));
}

bool keying(station::State state) {
    using enum station::State;
    return state == muting || state == antenna_to_transmit || state == settling || state == on_air || state == hold;
}

/// Before a change that nobody has answered is void.
constexpr Duration answered_before = std::chrono::milliseconds{100};

std::string key_of(const std::string& overlay) { return overlay.substr(0, overlay.find('=')); }

}  // namespace

std::string Service::control_path() const {
    return control::socket_path(options_.settings.control, first_of(std::getenv("RUNTIME_DIRECTORY")));
}

std::string Service::claim_socket() {
    const std::string path = control_path();
    if (path.empty()) return {};
    try {
        claimed_ = control::claim(path);
    } catch (const control::AnotherStation&) {
        throw;
    } catch (const std::exception& error) {
        return error.what();
    }
    return {};
}

void Service::go_without(Message what, const std::string& why) {
    log_.say(what, {why});
    const std::string_view text = text_of(what).text;
    missing_.push_back(std::string(text.substr(0, text.find("{}"))) + why);
}

void Service::open_control(const std::string& no_socket) {
    if (!no_socket.empty()) go_without(Message::control_absent, no_socket);
    if (!claimed_) return;
    try {
        control_.emplace(std::move(claimed_), desk_);
        log_.say(Message::control_open, {control_path()});
    } catch (const std::exception& error) {
        go_without(Message::control_absent, error.what());
    }
}

void Service::open_page() {
    const web::Settings& settings = options_.settings.web;
    if (settings.port == 0) return;
    try {
        if (black_box_) study_.emplace(*black_box_, desk_);
        page_.emplace(settings, desk_, study_ ? &*study_ : nullptr);
        log_.say(Message::page_open, {web::hosts_of(settings).front()});
    } catch (const std::exception& error) {
        go_without(Message::page_absent, error.what());
    }
}

void Service::open_book() {
    const char* const made = std::getenv("STATE_DIRECTORY");
    const std::string path = logbook::log_path(options_.settings.logbook, first_of(made));
    if (path.empty()) return;
    try {
        book_.emplace(path);
        events_.log_to(&*book_);
    } catch (const std::exception& error) {
        go_without(Message::logbook_absent, error.what());
    }
}

// The tone goes with the receiver's sound: an engine on the air mutes it.
void Service::remind(Duration now) {
    if (!identify_.due(events_.on_air(), now)) return;
    log_.say(Message::identify);
    desk_.event(R"({"event":"identify"})");
    if (!options_.settings.logbook.identify_tone) return;
    doors_.commands.push({.kind = audio::Command::Kind::chime, .mode = {}, .standing = false});
}

void Service::tend_desk(Duration now) {
    answer_modes(now);  // of those commanded in an earlier turn: the guard has had its orders since
    constexpr int most_changes = 16;
    for (int i = 0; i < most_changes; ++i) {
        const auto asked = desk_.next();
        if (!asked) break;
        if (asked->request.is_key()) obey_key(*asked, now);
        else if (asked->request.verb == control::Verb::mode) obey_mode(*asked);
        else if (asked->request.verb == control::Verb::set) obey_set(*asked, now);
        else answer_now(*asked);
    }
    answer_key(now);
    answer_settled_keys(now);
    mode_.send(doors_.commands);
    hold_lines();
    for (audio::LevelFrame frame; doors_.levels.pop(frame);) {
        desk_.level(frame);
        echo_ = frame.echo;
        held_ = frame.heard.held;
        on_air_ = audio_.condition() == AudioKeeper::Condition::open ? to_duration(frame.on_air, audio_.source().rate()) : Duration{0};
        events_.heard(frame);
    }
    remind(now);
    lay_out();
}

void Service::lay_out() {
    if (!settings_shown_) settings_shown_ = std::make_shared<const config::Settings>(options_.settings);
    const bool open = audio_.condition() == AudioKeeper::Condition::open;
    control::StationView view;
    view.phase = name(phase_);
    if (phase_ != Phase::running) view.trouble = state_text();
    view.missing = missing_;
    if (open) view.sound = audio_.source().description();
    if (open) view.rate = audio_.source().rate();
    view.wanted = mode_.wanted();
    view.mode = pulse_.mode.load(std::memory_order_relaxed);
    const audio::Stand stand = pulse_.stand.load(std::memory_order_relaxed);
    view.state = stand.state;
    view.quiet_awaited = stand.quiet_awaited;
    view.reason = station::name(stand.reason);
    view.driven = keying_->driven();
    view.identify = identify_.reminded();
    const auto& leak = options_.settings.station.detector.leak;
    if (open && leak.enabled && leak.method == dsp::AntiTrip::echo) view.echo = echo_;
    if (page_) view.page = page_->address();
    view.captures = captures_;
    view.process = ::getpid();
    view.settings_file = options_.settings_file;
    view.set = set_;
    view.settings_pending = pending_.has_value();
    view.settings = settings_shown_;
    view.counters = {.blocks = pulse_.blocks.load(std::memory_order_relaxed),
                     .blocks_flagged = pulse_.flagged.load(std::memory_order_relaxed),
                     .events_lost = pulse_.events_lost.load(std::memory_order_relaxed),
                     .keying_late = keying_->late_wakes(),
                     .guard_starts = told_guard_.status.starts,
                     .overs = events_.overs(),
                     .keyed = events_.keyed(view.rate)};
    desk_.show(std::move(view));
}

// Who sees the answer sees what it changed in the status as well.
void Service::answer_now(const control::Desk::Asked& asked) {
    const control::Outcome outcome = obey(asked);
    lay_out();
    asked.answer->set_value(outcome);
}

control::Outcome Service::obey(const control::Desk::Asked& asked) {
    using control::Verb;
    switch (asked.request.verb) {
        case Verb::capture: {
            const std::string refusal = capture("asked-for");
            if (!refusal.empty()) return {false, refusal};
            return {true, "asked for; the log, and captures in the status, tell where, or why not"};
        }
        case Verb::mark: return obey_mark(asked.request.mark, asked.request.over);
        case Verb::saved:
            set_.clear();
            log_.say(Message::settings_saved, {options_.settings_file, asked.by});
            return {true, {}};
        default: return {false, "this daemon can't do that"};
    }
}

void Service::obey_mode(const control::Desk::Asked& asked) {
    const auto from = asked.request.from;
    if (from && *from != mode_.wanted() && !asked.request.is_safe()) {
        const bool unkey = *from == station::Mode::keyed;
        const std::string other = "nothing done: the mode is " + std::string(station::name(mode_.wanted())) + ", not " + std::string(station::name(*from));
        return asked.answer->set_value({false, unkey ? nothing_forced_text(mode_.wanted(), keying_->driven().ptt) : other});
    }
    const Commanded commanded{.mode = asked.request.mode,
                              .was_forced = mode_.wanted() == station::Mode::keyed,
                              .keying = keying(pulse_.stand.load(std::memory_order_relaxed).state)};
    command(asked.request.mode, asked.by.c_str());
    mode_answers_.push_back({asked.answer, commanded, asked.until - answered_before});
}

// Who is told that the key is open is told what the guard has seen.
void Service::answer_modes(Duration now) {
    if (mode_answers_.empty()) return;
    const bool taken = phase_ != Phase::running || pulse_.mode.load(std::memory_order_acquire) == mode_.wanted();
    const bool open = !keying_->driven().ptt;
    const audio::Stand stand = pulse_.stand.load(std::memory_order_relaxed);
    lay_out();
    std::erase_if(mode_answers_, [&](ModeAnswer& waiting) {
        Commanded& commanded = waiting.commanded;
        const bool overtaken = commanded.mode != mode_.wanted();
        const bool safe = commanded.mode == station::Mode::safe;
        const bool forced = commanded.was_forced && commanded.keying;
        const bool done = taken && (open || (!safe && (!forced || held_)));
        if (!done && !overtaken && now < waiting.until) return false;
        commanded.held = held_;
        commanded.key_open = open;
        commanded.keys_now = phase_ == Phase::running && keying(stand.state);
        commanded.quiet_awaited = stand.quiet_awaited;
        if (phase_ != Phase::running) commanded.unready = state_text();
        waiting.answer->set_value({true, overtaken ? overtaken_text(mode_.wanted()) : in_words(commanded)});
        return true;
    });
}

// The command is away; what the engine makes of it is known a block or two later.
void Service::obey_key(const control::Desk::Asked& asked, Duration now) {
    const std::string refusal = force_key(asked.by.c_str(), now);
    if (refusal.empty()) key_answers_.push_back(asked.answer);
    else asked.answer->set_value({false, refusal});
}

void Service::answer_key(Duration now) {
    using enum ForcedKey::Fate;
    if (!key_from_) return;
    const ForcedKey::Fate fate = forced_key_.look(mode_.wanted(), now);
    if (fate == waits || (fate == unanswered && key_answers_.empty())) return;
    const control::Outcome outcome = settle_key(fate);
    const bool left_by_it = fate == refused;
    for (const auto& answer : std::exchange(key_answers_, {})) settled_keys_.push_back({answer, outcome, left_by_it ? now + ForcedKey::patience : now});
}

// Who is told in which mode a refused key leaves the station sees that mode in the status as well.
void Service::answer_settled_keys(Duration now) {
    if (settled_keys_.empty()) return;
    const bool taken = pulse_.mode.load(std::memory_order_acquire) == mode_.wanted();
    lay_out();
    std::erase_if(settled_keys_, [&](const SettledKey& settled) {
        if (!taken && now < settled.until) return false;
        settled.answer->set_value(settled.outcome);
        return true;
    });
}

// A refused key leaves the mode as it was: in mode keyed no voice would key any more.
control::Outcome Service::settle_key(ForcedKey::Fate fate) {
    using enum ForcedKey::Fate;
    if (fate == unanswered) return {false, "no sound has come since, so it is not known whether it keys; see the status"};
    const station::Mode before = *std::exchange(key_from_, std::nullopt);
    const station::LimitSettings& limits = options_.settings.station.limits;
    if (fate == obeyed) return {true, forced_text(limits.longest_over, on_air_)};
    if (fate == overtaken) return {false, "another command came after it"};
    const std::string refusal = key_refusal(pulse_.fault_obeyed.load(std::memory_order_relaxed), pulse_.stand.load(std::memory_order_relaxed).reason, limits.quiet_to_clear, before);
    if (before == station::Mode::armed) mode_.command(before);
    log_.say(Message::key_refused, {refusal});
    return {false, refusal};
}

control::Outcome Service::obey_mark(logbook::Mark mark, std::uint64_t over) {
    std::string did = "marked: spoken, and nothing was keyed";
    if (mark != logbook::Mark::missed) {
        const auto last = desk_.overs(1);
        if (over == 0 && !last.empty()) over = last.back().number;
        if (!desk_.mark(over, mark)) return {false, "there is no such over among the last ones"};
        did = "over " + std::to_string(over) + " is marked as " + std::string(name(mark));
    }
    const std::string no_sound = capture("marked-" + std::string(name(mark)));
    if (!book_ && mark == logbook::Mark::missed && !no_sound.empty()) return {false, "nothing to keep it in: there is no station log, and " + no_sound};
    if (book_ && mark == logbook::Mark::missed) book_->missed(logbook::wall_now());
    else if (book_) book_->mark(over, mark);
    return {true, did + mark_kept_text(book_.has_value(), no_sound)};
}

void Service::obey_set(const control::Desk::Asked& asked, Duration now) {
    const bool forced = mode_.wanted() == station::Mode::keyed;
    if (const std::string refusal = take_setting(asked, now); !refusal.empty()) return asked.answer->set_value({false, refusal});
    const std::string done = "in force, taken up with the key released";
    set_answers_.push_back({asked.answer, forced ? done + "; key forces it again, arm lets the voice key" : done, asked.until - answered_before});
}

std::string Service::take_setting(const control::Desk::Asked& asked, Duration now) {
    const config::Key* const key = config::find_key(asked.request.key);
    if (key == nullptr) return "there is no such setting";
    if (!config::changes_live(*key)) return "this one is changed in the settings file only";
    if (!options_.reload) return "the settings can't be read anew";
    if (asked.request.value.find('\n') != std::string::npos) return "a value is one line";
    std::vector<std::string> set = set_;
    std::erase_if(set, [&](const std::string& overlay) { return key_of(overlay) == key->path; });
    set.push_back(key->path + "=" + asked.request.value);
    Reloaded reloaded = options_.reload(set);
    if (!reloaded.settings) return reloaded.problems.empty() ? "refused" : without_set_place(reloaded.problems.back());
    set_ = std::move(set);
    log_.say(Message::setting_taken, {set_.back(), asked.by});
    take_up(std::move(*reloaded.settings), now);
    return {};
}

// Who sees the answer sees the new settings in the status as well.
void Service::answer_set(Duration now) {
    if (set_answers_.empty()) return;
    lay_out();
    std::erase_if(set_answers_, [&](const SetAnswer& waiting) {
        if (pending_ && now < waiting.until) return false;
        waiting.answer->set_value({true, pending_ ? "checked, and not in force yet: it waits for the lines to come to rest; see the status" : waiting.done});
        return true;
    });
}

}  // namespace tripline::service
