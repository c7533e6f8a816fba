// Takes the engine's events from the callback's ring and tells those who want to know.
#pragma once

#include "daemon/audio/live_engine.h"
#include "daemon/black_box/black_box.h"
#include "daemon/control/desk.h"
#include "daemon/logbook/book.h"
#include "daemon/logbook/over_watch.h"
#include "daemon/replay/decision.h"
#include "daemon/service/event_file.h"
#include "daemon/service/log.h"
#include "daemon/service/mode_told.h"
#include "daemon/service/printer.h"

#include <optional>
#include <string>

namespace tripline::service {

class EventReporter {
public:
    /// `print`: a line on standard output for each change of the key. `file`: where the
    /// events are written; empty: nowhere. Throws as EventFile does.
    EventReporter(audio::Ring<station::Event>& events, Log& log, control::Desk& desk, bool print,
                  const std::string& file);
    /// From now on overs go there as well; before the first drain(). `book` outlives this; null: nowhere.
    void log_to(logbook::Book* book);
    /// For the peak of the present over, and its length if nothing else ends it.
    void heard(const audio::LevelFrame& frame) {
        watch_.heard(frame.heard.measures.microphone);
        seen_ = frame.at;
    }
    bool on_air() const noexcept { return watch_.running(); }

    /// From now on the events go there as well. It must outlive this.
    void keep_in(black_box::BlackBox& box) { black_box_ = &box; }

    /// How often the guard has told that it closes the key so far: before each drain().
    void guard_closed(std::uint32_t times) noexcept { guard_closed_ = times; }
    /// Everything that waits in the ring, at a stream of this rate.
    void drain(Hertz rate);
    /// The lines were released at the station's end: an over under way ended with that, where sound was last seen.
    void end_over(Hertz rate);
    /// Prints the overs so far, and their time in all.
    void print_summary();
    bool failed() const noexcept { return file_ && file_->failed(); }
    unsigned overs() const noexcept { return overs_; }
    /// The key was closed so long in all, a present over as far as it was seen.
    Duration keyed(Hertz rate) const noexcept;

private:
    void take(const station::Event& event, Hertz rate);
    void take_over(const logbook::Over& over);
    void tell_self_keying(int spells);
    void take_key(const station::Event& event, Hertz rate);
    void open_key(Frames at, station::Reason why, Hertz rate);
    bool never_closed(station::Reason why, Duration length);

    audio::Ring<station::Event>& events_;
    Log& log_;
    control::Desk& desk_;
    std::optional<Printer> printer_;
    std::optional<EventFile> file_;
    black_box::BlackBox* black_box_ = nullptr;
    station::Lines lines_;
    station::Reason reason_ = station::Reason::none;  ///< why the present change of lines began
    logbook::OverWatch watch_{0};
    logbook::Book* book_ = nullptr;
    replay::Decision decision_;
    ModeTold mode_told_;
    std::uint32_t guard_closed_ = 0;
    std::uint32_t guard_closed_before_ = 0;  ///< when the last over ended
    Frames closed_at_{0};
    Frames seen_{0};   ///< the last level's time
    Duration keyed_{0};
    unsigned overs_ = 0;
    int self_keyed_ = 0;  ///< spells in succession, as of the last event
};

/// "0:03.412"
std::string time_text(Frames at, Hertz rate);
std::string time_text(Duration time);
/// "0:03.412  key closed  voice (voice): microphone -24.1 dBFS, threshold -41.0 dBFS, margin 16.9 dB", with the figures of
/// the decision as `tripline replay` has them.
std::string closed_text(Frames at, const replay::Decision& decision, Hertz rate);
/// "0:05.912  key open    silence, after 2.500 s"
std::string open_text(Frames at, station::Reason reason, Duration closed_for, Hertz rate);

}  // namespace tripline::service
