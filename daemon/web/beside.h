// One worker beside the server's thread, for answers that take their time: nobody else waits for them.
#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>

namespace tripline::web {

class Beside {
public:
    static constexpr std::size_t most_waiting = 32;

    /// Done with `ending` false by the worker, in order, or true where end() comes first. May not throw.
    using Work = std::function<void(bool ending)>;

    // The server's thread.
    bool has_room() const;
    void begin(Work work);

    /// Ends what waits, after the one at work. From then on begin() ends its work at once. Once the thread that
    /// begins is at its end this has to have been called.
    void end();
    ~Beside() { end(); }

private:
    void run(const std::stop_token& stop);

    mutable std::mutex lock_;  // for what waits
    std::condition_variable_any came_;
    std::deque<Work> waiting_;
    bool ended_ = false;
    std::jthread thread_{[this](const std::stop_token& stop) { run(stop); }};  // last: it uses all above
};

}  // namespace tripline::web
