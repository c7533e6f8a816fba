#include "daemon/service/event_reporter.h"

#include "daemon/replay/event_line.h"
#include "daemon/service/texts.h"
#include "daemon/station/names.h"
#include "daemon/text/print.h"

#include <unistd.h>

#include <algorithm>
#include <cinttypes>
#include <cstdio>

namespace tripline::service {

EventReporter::EventReporter(audio::Ring<station::Event>& events, Log& log, control::Desk& desk, bool print,
                             const std::string& file)
    : events_(events), log_(log), desk_(desk) {
    if (print) printer_.emplace(STDOUT_FILENO);
    if (!file.empty()) file_.emplace(file);
}

void EventReporter::drain(Hertz rate) {
    for (station::Event event; events_.pop(event);) take(event, rate);
}

void EventReporter::take(const station::Event& event, Hertz rate) {
    if (file_) file_->write(event, rate);
    if (black_box_ != nullptr) black_box_->take(event);
    desk_.event(replay::event_line(event, rate));
    if (event.kind == station::EventKind::reset) log_.say(Message::not_finite);
    if (const auto mode = mode_told_.take(event)) log_.say(Message::mode_taken, {std::string(station::name(*mode))});
    if (event.kind != station::EventKind::state) return;
    const bool ended_early =
        event.reason == station::Reason::too_long || event.reason == station::Reason::steady_tone;
    if (ended_early) log_.say(Message::locked_out, {std::string(station::name(event.reason)), lock_end_text(event.mode)});
    tell_self_keying(event.heard.self_keyed);
    if (event.reason != station::Reason::step) reason_ = event.reason;
    decision_.take(event);
    if (event.lines.ptt != lines_.ptt) take_key(event, rate);
    lines_ = event.lines;
}

void EventReporter::tell_self_keying(int spells) {
    if (spells > self_keyed_ && spells % 3 == 0) log_.say(Message::self_keyed, {std::to_string(spells)});
    self_keyed_ = spells;
}

void EventReporter::take_key(const station::Event& event, Hertz rate) {
    if (event.lines.ptt) {
        ++overs_;
        closed_at_ = event.at;
        watch_.key_closed(logbook::wall_now(), reason_, event.heard.measures.microphone);
        if (printer_) printer_->print(closed_text(event.at, decision_, rate));
    } else {
        open_key(event.at, reason_, rate);
    }
}

void EventReporter::open_key(Frames at, station::Reason why, Hertz rate) {
    const Duration length = to_duration(at - closed_at_, rate);
    const bool none = never_closed(why, length);
    guard_closed_before_ = guard_closed_;
    if (printer_) printer_->print(open_text(at, why, length, rate) + (none ? ": no over, the guard had told of no closed key" : ""));
    if (none) {
        --overs_;
        watch_.withdraw();
        log_.say(Message::over_withdrawn);
        return;
    }
    take_over(watch_.key_opened(length, why));
    keyed_ += length;
}

/// The guard was lost before it told that the key was closed.
bool EventReporter::never_closed(station::Reason why, Duration length) {
    constexpr Duration noticed_within = std::chrono::milliseconds{500};
    return why == station::Reason::fault && guard_closed_ == guard_closed_before_ && length < noticed_within;
}

void EventReporter::end_over(Hertz rate) {
    if (!watch_.running()) return;
    open_key(std::max(seen_, closed_at_), station::Reason::none, rate);
    lines_ = {};
}

void EventReporter::log_to(logbook::Book* book) {
    book_ = book;
    if (book_ == nullptr) return;
    for (const logbook::Over& over : book_->before()) desk_.over(over);
    watch_ = logbook::OverWatch(book_->before().empty() ? 0 : book_->before().back().number);
}

void EventReporter::take_over(const logbook::Over& over) {
    desk_.over(over);
    if (book_ != nullptr) book_->write(over);
}

Duration EventReporter::keyed(Hertz rate) const noexcept {
    const bool shown = watch_.running() && rate.value > 0 && seen_ > closed_at_;
    return keyed_ + (shown ? to_duration(seen_ - closed_at_, rate) : Duration{0});
}

void EventReporter::print_summary() {
    if (!printer_) return;
    printer_->print(std::to_string(overs_) + (overs_ == 1 ? " over, " : " overs, ") + time_text(keyed_) +
                    " keyed");
}

std::string time_text(Frames at, Hertz rate) { return time_text(to_duration(at, rate)); }

std::string time_text(Duration time) {
    const auto ms = std::chrono::round<std::chrono::milliseconds>(time).count();
    char text[40];
    std::snprintf(text, sizeof text, "%" PRId64 ":%02d.%03d", static_cast<std::int64_t>(ms / 60'000),
                  static_cast<int>(ms / 1000 % 60), static_cast<int>(ms % 1000));
    return text;
}

std::string closed_text(Frames at, const replay::Decision& decision, Hertz rate) {
    return print("%10s  key closed  ", time_text(at, rate).c_str()) + replay::in_words(decision.why, decision.heard);
}

std::string open_text(Frames at, station::Reason reason, Duration closed_for, Hertz rate) {
    const std::string why(station::end_name(reason));
    return print("%10s  key open    %s, after %.3f s", time_text(at, rate).c_str(), why.c_str(),
                 std::chrono::duration<double>(closed_for).count());
}

}  // namespace tripline::service
