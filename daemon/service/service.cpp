#include "daemon/service/service.h"

#include "config/problem.h"
#include "daemon/black_box/folder.h"
#include "daemon/service/texts.h"
#include "daemon/station/names.h"
#include "tripline/version.h"

#include <unistd.h>

#include <cstring>
#include <ctime>
#include <thread>

namespace tripline::service {

namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

constexpr Duration tick = 20ms;
constexpr Duration longest_stall = 2s;    // then the device is given up and opened anew
constexpr Duration reload_patience = 1s;  // for the engine to go back to rest by itself
constexpr Duration steady_after = 60s;    // running so long, earlier failures are forgotten
constexpr unsigned longest_end_s = 5;     // until the lines are released
constexpr unsigned longest_rest_s = 4;    // then, for all else; the unit's TimeoutStopSec is longer than both
constexpr Duration longest_capture = 2s;  // then what is written is given up
constexpr Duration longest_close = 1s;    // of the sound, for its last events

Duration now_monotonic() { return std::chrono::steady_clock::now().time_since_epoch(); }

/// Of a clock that goes on while the machine sleeps.
Duration now_with_sleep() {
    timespec time{};
    ::clock_gettime(CLOCK_BOOTTIME, &time);
    return std::chrono::seconds{time.tv_sec} + std::chrono::nanoseconds{time.tv_nsec};
}

}  // namespace

Service::Service(Options options, const Signals& signals)
    : options_(std::move(options)),
      signals_(signals),
      log_(options_.settings.log.level),
      audio_(pulse_, doors_),
      events_(doors_.events, log_, desk_, options_.print_keying, events_file(options_, opened_)),
      identify_(options_.settings.logbook.identify_every),
      kept_safe_(guard::state_folder()),
      mode_(kept_safe_.kept() ? station::Mode::safe : take_kept_mode(options_.settings.station.start_mode)) {
    const std::string no_socket = claim_socket();  // before a line is driven
    log_.say(Message::started, {version, std::string(station::name(mode_.wanted()))});
    if (kept_safe_.kept()) log_.say(Message::safe_kept);
    if (!state_lock_.failure().empty()) log_.say(Message::state_not_held, {state_lock_.failure()});
    start_keying();
    start_black_box();
    open_book();
    open_control(no_socket);
    open_page();
    if (options_.keys) keyboard_.emplace(STDIN_FILENO);
    if (keyboard_ && keyboard_->works()) std::puts(keys_text);
}

void Service::start_keying() {
    end_keying();  // one guard at a time holds the lines
    keep_wiring();
    wired_ = options_.settings.lines;
    keying_.emplace(keying_setup(options_), pulse_);
    keying_->hold(true);
}

bool Service::end_keying() {
    if (!keying_) return true;
    const guard::Ending ending = keying_->end();
    closings_before_ += keying_->closings();
    keying_.reset();
    if (ending == guard::Ending::released) return true;
    if (ending == guard::Ending::unknown) log_.say(Message::lines_unknown, unknown_lines(told_guard_.status, told_guard_.notice.text, wired_));
    else log_.say(Message::guard_stuck, {ending == guard::Ending::killed ? "was killed" : "cannot be killed"});
    return false;
}

// Before the guard opens a line: what it holds has to be known to whoever releases it.
void Service::keep_wiring() {
    const std::string folder = guard::state_folder();
    if (folder.empty()) return;
    try {
        guard::keep_plan(plan_of(options_.settings), folder);
    } catch (const std::exception& error) {
        log_.say(Message::plan_not_kept, {error.what()});
    }
}

void Service::start_black_box() {
    const auto settings = black_box_of(options_.settings.black_box);
    if (!settings) return;
    if (const std::string why = black_box::unfit(settings->folder); !why.empty()) log_.say(Message::captures_unfit, {why});
    black_box_.emplace(*settings);
    audio_.keep_in(*black_box_);
    events_.keep_in(*black_box_);
}

std::string Service::capture(const std::string& why) {
    if (!black_box_) return why_no_black_box(options_.settings.black_box);
    if (!black_box_->capture(why)) return "too many captures wait to be written";
    captures_.asked = black_box_->asked();
    return {};
}

int Service::run() {
    while (phase_ != Phase::stopping) {
        const Signals::Caught caught = signals_.wait(tick);
        keying_->beat();
        const Duration now = now_monotonic();
        standstill_.turn(now_with_sleep());
        if (caught.stop != 0) {
            log_.say(Message::stop_signal, {::strsignal(caught.stop)});
            happen(Happening::stop);
        }
        if (caught.suspend && phase_ != Phase::stopping) suspend();
        tend_sleep(now);
        tend_audio(now);
        tend_mode(caught, now);
        tend_desk(now);
        tend_phase(now);
        tend_reload(caught.reload, now);
        answer_set(now);
        report(now);
        feed_watchdog(now);
    }
    return release_and_end(now_monotonic());
}

void Service::happen(Happening happening) {
    const Phase before = phase_;
    phase_ = next(phase_, happening);
    hold_lines();
    if (before == Phase::starting && phase_ != before) supervisor_.ready();
    supervisor_.status(state_text() + missing_text(missing_));
}

std::string Service::state_text() const {
    const char* const sleep = sleep_.unanswered() ? "the machine was about to sleep, and logind does not answer; arm the station if it stays awake" : "the machine is about to sleep";
    return status_text(phase_, keying_->present(), sleep_.near() ? sleep : said_absence_);
}

/// A new engine has begun with the fault of the one before, and what was still on its way to that is gone.
void Service::renew_orders() {
    mode_.engine_renewed();
    order_fault(fault_ordered_);
}

void Service::order_fault(bool standing) {
    fault_ordered_ = standing;
    doors_.commands.push({.kind = audio::Command::Kind::fault, .mode = {}, .standing = standing});
}

// A safe opens the key by this way as well: it does not wait for the sound.
void Service::hold_lines() {
    const bool safe_pending = mode_.safe_pending(pulse_.mode.load(std::memory_order_acquire));
    keying_->hold(!may_key(phase_) || safe_pending);
}

// ---- the operator's mode ----

void Service::tend_mode(const Signals::Caught& caught, Duration now) {
    constexpr int most_keys = 16;
    if (caught.arm) command(station::Mode::armed, "SIGUSR2");
    if (caught.safe) command(station::Mode::safe, "SIGUSR1");  // of both, the safe stands
    for (int i = 0; keyboard_ && i < most_keys; ++i) {
        const auto mode = keyboard_->next();
        if (!mode) break;
        if (*mode == station::Mode::keyed) force_key("key", now);
        else command(*mode, "key");
    }
    mode_.send(doors_.commands);
    hold_lines();
}

// A forced key has nobody at it any more. A program that stands still could not open it either; the guard would.
void Service::suspend() {
    log_.say(Message::suspended);
    if (mode_.wanted() == station::Mode::keyed) command(station::Mode::safe, "Ctrl-Z");
    keying_->hold(true);
    constexpr Duration to_be_said = 50ms;
    std::this_thread::sleep_for(to_be_said);
    Signals::stand_still();
    hold_lines();
}

// As at a standstill; and the machine waits until the guard has told that every line is at rest.
void Service::tend_sleep(Duration now) {
    const bool held_since_before = sleep_.near();
    sleep_.turn(now);
    tell_of_sleep();
    if (!sleep_.near()) return;
    if (mode_.wanted() == station::Mode::keyed) command(station::Mode::safe, "the machine's sleep");
    if (phase_ == Phase::running) enter_trouble("machine about to sleep", now);
    if (held_since_before && keying_->driven() == station::Lines{}) sleep_.let_sleep();
}

void Service::tell_of_sleep() {
    if (const std::string why = sleep_.take_refusal(); !why.empty()) log_.say(Message::sleep_not_delayed, {why});
    if (sleep_.unanswered() == std::exchange(sleep_told_unanswered_, sleep_.unanswered())) return;
    if (sleep_.unanswered()) log_.say(Message::sleep_unanswered);
    supervisor_.status(state_text() + missing_text(missing_));
}

void Service::command(station::Mode mode, const char* by) {
    if (mode == station::Mode::armed) sleep_.disregard_unanswered();  // who arms it is at it, and sees a machine that does not sleep
    if (mode != mode_.wanted()) log_.say(Message::mode_commanded, {std::string(station::name(mode)), by});
    mode_.command(mode);
    mode_.send(doors_.commands);
    hold_lines();  // the key does not wait for the disk
    keep_safe(mode == station::Mode::safe);
}

void Service::keep_safe(bool safe) {
    const std::string failure = kept_safe_.keep(safe);
    if (!failure.empty()) log_.say(Message::safe_not_kept, {failure});
}

std::string Service::force_key(const char* by, Duration now) {
    log_.say(Message::mode_commanded, {std::string(station::name(station::Mode::keyed)), by});
    const station::Mode before = mode_.wanted();
    std::string refusal;
    if (before == station::Mode::safe) refusal = "the station is safe; arm it first";
    else if (phase_ != Phase::running || pending_) refusal = "the station is not ready";
    else if (standstill_.just_ended()) refusal = "the daemon has just stood still, so that nobody knows how long ago that was commanded; key again";
    else if (!mode_.key(doors_.commands)) refusal = "another command has not arrived yet";
    if (refusal.empty()) {
        forced_key_.sent(now);
        if (!key_from_) key_from_ = before;
    } else log_.say(Message::key_refused, {refusal});
    return refusal;
}

// ---- sound ----

void Service::tend_audio(Duration now) {
    audio_.poll(now);
    if (audio_.hung(now)) {
        log_.say(Message::audio_hangs);
        hung_ = true;
        happen(Happening::stop);
        return;
    }
    using enum AudioKeeper::Condition;
    const bool is_open = audio_.condition() == open;
    if (is_open && !was_open_) take_opened(now);
    if (audio_.condition() == closed && !audio_.failure().empty() && next_open_ == Duration{0}) take_refused(now);
    was_open_ = is_open;
    if (is_open && audio_.source().ended()) take_ended(now);
    if (audio_.condition() == closed && !pending_ && now >= next_open_) open_audio(now);
}

void Service::open_audio(Duration now) {
    next_open_ = Duration{0};
    audio_.open(opener(options_, pulse_), options_.settings,
                numbered(options_.record_to, ++opened_), now);
}

void Service::take_opened(Duration now) {
    log_.say(Message::audio_opened, {audio_.source().description()});
    said_absence_.clear();
    renew_orders();
    give_up_ = now + longest_stall + retry_.failed();
}

void Service::take_refused(Duration now) {
    if (options_.recording) {  // a file does not come back by itself
        end_with(audio_.failure());
        return;
    }
    next_open_ = now + retry_.failed();
    if (audio_.failure() == said_absence_) return;
    said_absence_ = audio_.failure();
    log_.say(Message::audio_absent, {said_absence_});
    happen(Happening::absent);
}

void Service::take_ended(Duration now) {
    if (options_.recording) {
        end_with(audio_.source().failure());
        return;
    }
    log_.say(Message::audio_ended);
    happen(Happening::trouble);
    audio_.close(now);
}

void Service::end_with(const std::string& failure) {
    if (failure.empty()) {
        log_.say(Message::recording_over);
    } else {
        log_.say(Message::recording_broken, {failure});
        exit_status_ = 2;
    }
    happen(Happening::stop);
}

// ---- phases ----

void Service::tend_phase(Duration now) {
    if (phase_ == Phase::stopping) return;
    const bool open = audio_.condition() == AudioKeeper::Condition::open;
    if (phase_ == Phase::running) {
        if (keying_->trouble() != Trouble::none || !open) enter_trouble(name(keying_->trouble()), now);
        else if (now - running_since_ > steady_after) retry_.worked();
        return;
    }
    if (phase_ == Phase::stalled && now - stalled_since_ > longest_stall) happen(Happening::gave_up);
    if (open && !pending_) recover(now);
    if (phase_ == Phase::running || !open || now <= give_up_) return;
    if (audio_at_fault()) audio_.close(now);
    // Sound flows, but the guard cannot have a line: it has said so, and is started again.
    else if (phase_ == Phase::starting && options_.recording && !sleep_.near()) end_with("no line could be had: " + std::string(told_guard_.notice.text));
    else if (phase_ == Phase::starting) happen(Happening::absent);
}

void Service::enter_trouble(std::string_view trouble, Duration now) {
    stalled_since_ = now;
    give_up_ = now + longest_stall;
    log_.say(Message::stalled, {std::string(trouble)});
    order_fault(true);
    happen(Happening::trouble);
}

void Service::recover(Duration now) {
    if (keying_->present() != Trouble::none || sleep_.near()) return;
    if (pulse_.lines.load(std::memory_order_acquire) != 0) {
        if (!fault_ordered_) order_fault(true);  // it keyed into lines held at rest: back first
        return;
    }
    keying_->clear();
    if (keying_->trouble() != Trouble::none) return;
    if (fault_ordered_) order_fault(false);
    running_since_ = now;
    log_.say(Message::running);
    happen(Happening::healthy);
}

bool Service::audio_at_fault() const {
    const Trouble present = keying_->present();
    return present != Trouble::none && present != Trouble::guard && present != Trouble::service && present != Trouble::suspended;
}

// ---- new settings ----

void Service::tend_reload(bool asked, Duration now) {
    if (asked && phase_ != Phase::stopping) ask_reload(now);
    if (!pending_) return;
    using enum AudioKeeper::Condition;
    const bool at_rest = pulse_.lines.load(std::memory_order_acquire) == 0;
    if (at_rest && now <= reload_due_ && exchange_engine()) return;
    if (audio_.condition() == open && (at_rest || now > reload_due_)) {
        happen(Happening::gave_up);
        audio_.close(now);
    }
    if (audio_.condition() == closed) apply_reload();
}

/// New settings for the engine alone: the sound goes on. False: the sound has to be opened anew.
bool Service::exchange_engine() {
    Options next = options_;
    next.settings = *pending_;
    const bool same_outside = next.settings.audio == options_.settings.audio && keying_setup(next) == keying_setup(options_);
    if (phase_ != Phase::running || audio_.condition() != AudioKeeper::Condition::open || !same_outside) return false;
    const auto drain = [this] { drain_events(audio_.source().rate()); };
    using enum AudioKeeper::Exchange;
    const auto exchanged = audio_.exchange_engine(*pending_, drain);
    if (exchanged != done) return exchanged == not_at_rest;  // then it is tried again
    options_.settings = *std::exchange(pending_, std::nullopt);
    settings_shown_.reset();
    renew_orders();
    lay_out();
    log_.say(Message::settings_in_force);
    return true;
}

void Service::ask_reload(Duration now) {
    if (!options_.reload) {
        log_.say(Message::reload_nothing);
        return;
    }
    Reloaded reloaded = options_.reload({});
    if (!reloaded.settings) {
        for (const std::string& problem : config::as_told(reloaded.problems)) log_.say(Message::reload_refused, {problem});
        return;
    }
    set_.clear();  // the file counts again
    for (const SetAnswer& waiting : std::exchange(set_answers_, {})) waiting.answer->set_value({false, "the settings file has been read again since, and counts"});
    log_.say(Message::reloading);
    take_up(std::move(*reloaded.settings), now);
}

void Service::take_up(config::Settings settings, Duration now) {
    pending_ = std::move(settings);
    reload_due_ = now + reload_patience;
    if (mode_.wanted() == station::Mode::keyed) log_.say(Message::forced_ended);
    doors_.commands.push({.kind = audio::Command::Kind::reload, .mode = {}, .standing = true});
}

void Service::apply_reload() {
    const KeyingThread::Setup before = keying_setup(options_);
    options_.settings = *std::exchange(pending_, std::nullopt);
    if (!(keying_setup(options_) == before)) start_keying();
    settings_shown_.reset();
    next_open_ = Duration{0};
    said_absence_.clear();
}

// ---- telling ----

void Service::report(Duration now) {
    if (audio_.condition() == AudioKeeper::Condition::open) drain_events(audio_.source().rate());
    report_guard();
    report_priority();
    report_captures();
    const auto say_growth = [&](Growing& growing, std::uint64_t count, Message message) {
        if (growing.due(count, now)) log_.say(message, {std::to_string(count)});
    };
    say_growth(flagged_, pulse_.flagged.load(std::memory_order_relaxed), Message::samples_missed);
    say_growth(events_lost_, pulse_.events_lost.load(std::memory_order_relaxed), Message::events_lost);
    say_growth(samples_lost_, pulse_.samples_lost.load(std::memory_order_relaxed), Message::recording_lost);
    if (control_) say_growth(dropped_, control_->dropped(), Message::control_dropped);
    if (control_) say_growth(tight_, control_->tight(), Message::control_tight);
    say_growth(late_, keying_->late_wakes(), Message::keying_late);
    if (audio_.recording_failed() && !std::exchange(recording_failure_told_, true)) {
        log_.say(Message::recording_failed);
    }
    if (book_ && book_->failed() && !std::exchange(book_failure_told_, true)) log_.say(Message::logbook_failed);
    if (events_.failed() && !std::exchange(events_failure_told_, true)) log_.say(Message::events_failed);
}

void Service::drain_events(Hertz rate) {
    events_.guard_closed(closings_before_ + (keying_ ? keying_->closings() : 0));
    events_.drain(rate);
}

void Service::report_guard() {
    for (GuardNews news; keying_->next_news(news);) {
        const GuardNews before = std::exchange(told_guard_, news);
        if (std::strcmp(news.notice.text, before.notice.text) != 0 && news.notice.text[0] != '\0') {
            log_.say(Message::guard_notice, {news.notice.text});
        }
        if (phase_ == Phase::stopping) continue;  // the terminal's signal reaches the guard as well
        for (const Line& line : guard_lines(before.status, news.status)) log_.say(line.message, line.arguments);
    }
}

void Service::report_priority() {
    const int thread = pulse_.thread.load(std::memory_order_relaxed);
    if (thread == 0 || thread == priority_told_of_) return;
    const bool first = std::exchange(priority_told_of_, thread) == 0;
    const audio::Granted audio = audio::ask_priority(thread, options_.settings.audio.priority);
    const audio::Granted keying = audio::ask_priority(keying_->thread(), 0);
    for (const auto& [who, granted] : {std::pair{"audio", audio}, std::pair{"keying", keying}}) {
        if (granted.real_time) log_.say(Message::priority_granted, {who, std::to_string(granted.priority)});
        else log_.say(Message::priority_refused, {who, granted.refusal.empty() ? "not asked for" : granted.refusal});
    }
    if (options_.settings.audio.priority == 0) return;
    const std::string unlocked = audio::lock_memory();  // that of the engine which has just begun
    if (first && !unlocked.empty()) log_.say(Message::memory_not_locked, {unlocked});
}

void Service::report_captures() {
    if (black_box_) captures_.asked = black_box_->asked();
    captures_.kept.clear();
    for (const black_box::Heard& heard : black_box_ ? black_box_->heard() : std::vector<black_box::Heard>{})
        captures_.kept.push_back({std::chrono::floor<std::chrono::milliseconds>(heard.began), std::chrono::floor<std::chrono::milliseconds>(heard.ended)});
    while (const auto outcome = black_box_ ? black_box_->next_outcome() : std::nullopt) {
        const auto ended = std::chrono::floor<std::chrono::milliseconds>(outcome->ended);
        captures_.add({.number = outcome->number, .sound = outcome->sound.empty() ? std::string() : std::filesystem::absolute(outcome->sound).string(), .failure = outcome->failure,
                       .began = ended - std::chrono::round<std::chrono::milliseconds>(outcome->length), .ended = ended});
        if (outcome->last) captures_.ended = outcome->number;
        if (outcome->failure.empty()) log_.say(Message::capture_written, {outcome->sound.string()});
        else log_.say(Message::capture_failed, {outcome->failure});
    }
}

void Service::feed_watchdog(Duration now) {
    if (phase_ == Phase::running || phase_ == Phase::waiting || phase_ == Phase::starting) supervisor_.feed(now);
}

// ---- the end ----

int Service::release_and_end(Duration now) {
    ::alarm(longest_end_s);  // whatever hangs below, the process ends, and the guard releases
    if (!hung_) supervisor_.stopping();  // what starts afresh goes on: systemd would kill all of it, guard and backstop too
    const bool released = end_keying();
    if (released) sleep_.let_sleep();  // what is written below is none of its business
    desk_.close();
    control_.reset();
    page_.reset();
    study_.reset();
    keyboard_.reset();
    if (!hung_ && released) {
        guard::forget_plan(guard::state_folder());
        log_.say(Message::stopped);
        Signals::leave_at_alarm(exit_status_);  // what hangs now is no failure of the station
        ::alarm(longest_rest_s);
    }
    if (hung_) {
        ::alarm(longest_rest_s);
        finish_captures();
        log_.close();
        ::alarm(0);
        const bool locked = pulse_.stand.load(std::memory_order_acquire).state == station::State::locked_out;
        start_afresh(locked ? station::Mode::safe : mode_.wanted(), opened_);  // a lock-out is not lifted by this
    }
    if (audio_.condition() == AudioKeeper::Condition::open) {
        const Hertz rate = audio_.source().rate();
        close_audio(now);
        drain_events(rate);  // those until the last block, too
        events_.end_over(rate);
        events_.print_summary();
    }
    finish_captures();
    return exit_status_;
}

void Service::finish_captures() {
    const bool finished = !black_box_ || black_box_->finish(longest_capture);
    report_captures();
    if (!finished) log_.say(Message::capture_failed, {"the disk stands still; a part of it may be left in its folder"});
}

// A sound library may hang: whatever comes after that is lost.
void Service::close_audio(Duration now) {
    audio_.close(now);
    while (audio_.condition() != AudioKeeper::Condition::closed && now_monotonic() - now < longest_close) {
        std::this_thread::sleep_for(10ms);
        audio_.poll(now_monotonic());
    }
}

}  // namespace tripline::service
