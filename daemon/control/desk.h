// The desk at which the service's thread lays out what is to be seen, and takes what is
// asked for. Everything at it is behind one lock, held for copies only; the audio callback
// never comes here.
#pragma once

#include "daemon/control/allowance.h"
#include "daemon/control/kept.h"
#include "daemon/control/limits.h"
#include "daemon/control/request.h"
#include "daemon/control/station_view.h"
#include "daemon/logbook/over.h"

#include <deque>
#include <future>
#include <mutex>

namespace tripline::control {

struct Outcome {
    bool good = false;
    std::string text;  ///< what was done, or why not
};

class Desk {
public:
    static constexpr std::size_t kept_levels = 10UL * 60 * 25;  ///< ten minutes
    static constexpr std::size_t kept_events = 1000;
    static constexpr std::size_t kept_overs = 1000;

    /// A change that somebody waits for.
    struct Asked {
        Request request;
        std::string by;
        Duration until{0};  ///< on the steady clock; later the change is void
        std::shared_ptr<std::promise<Outcome>> answer;
    };

    // The service's thread.
    void show(StationView view);
    void level(const audio::LevelFrame& frame);
    void event(std::string line);
    void over(const logbook::Over& over);
    /// False: not among those kept.
    bool mark(std::uint64_t over, logbook::Mark mark);
    /// The next change asked for; not one that has waited too long, unless it is a safe.
    std::optional<Asked> next();
    /// From now on every change is refused.
    void close();

    // Any other thread.
    StationView view() const;
    std::vector<audio::LevelFrame> levels(std::uint64_t& cursor, std::size_t most) const;
    std::vector<std::string> events(std::uint64_t& cursor, std::size_t most) const;
    std::vector<logbook::Over> overs(std::size_t last) const;
    std::uint64_t levels_so_far() const;
    std::uint64_t events_so_far() const;
    /// What the service will say, or at once why it is not even asked. See outcome_of(). A safe goes ahead of all others,
    /// and what would arm or key the station before its turn came is void.
    std::future<Outcome> put(const Request& request, const std::string& by);
    /// Waits for the service, at most answer_within.
    Outcome ask(const Request& request, const std::string& by);

private:
    void make_void_what_would_key();

    mutable std::mutex lock_;  // for all below
    StationView view_;
    Kept<audio::LevelFrame> levels_{kept_levels};
    Kept<std::string> events_{kept_events};
    Kept<logbook::Over> overs_{kept_overs};
    std::deque<Asked> asked_;
    Allowance changes_{changes_a_second, changes_at_once};
    bool closed_ = false;
};

bool is_known(const std::future<Outcome>& answer);
/// Of an answer that is known, or was waited for as long as anybody does.
Outcome outcome_of(std::future<Outcome> answer);

}  // namespace tripline::control
