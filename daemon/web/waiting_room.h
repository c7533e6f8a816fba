// Who has to leave when one connection too many comes. Pure.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace tripline::web {

/// The one that has waited longest without a request ended goes, however busily it sends a
/// request without an end: nobody can keep the operator out.
class WaitingRoom {
public:
    explicit WaitingRoom(std::size_t most) : most_(most) {}

    /// The connection that has to be ended; -1: there is room.
    int came(int connection) {
        waiting_.push_back(connection);
        if (waiting_.size() <= most_) return -1;
        const int longest = waiting_.front();
        waiting_.erase(waiting_.begin());
        return longest;
    }
    /// A request of it has ended: it goes to the end of the row.
    void served(int connection) {
        const auto place = std::ranges::find(waiting_, connection);
        if (place != waiting_.end()) std::rotate(place, place + 1, waiting_.end());
    }
    void left(int connection) { std::erase(waiting_, connection); }

private:
    std::size_t most_;
    std::vector<int> waiting_;  ///< those served longest ago first
};

}  // namespace tripline::web
