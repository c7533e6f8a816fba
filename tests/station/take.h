// A sink that keeps what it is told.
#pragma once

#include "daemon/station/event.h"

#include <vector>

namespace tripline::station::test {

class Take final : public EventSink {
public:
    void take(const Event& event) noexcept override { events.push_back(event); }

    std::vector<State> states() const {
        std::vector<State> entered;
        for (const Event& event : events)
            if (event.kind == EventKind::state) entered.push_back(event.to);
        return entered;
    }

    /// The first entry into a state; a default event, of kind mode, if there was none.
    Event entry(State state) const {
        for (const Event& event : events)
            if (event.kind == EventKind::state && event.to == state) return event;
        Event none;
        none.kind = EventKind::mode;
        return none;
    }

    std::vector<Event> events;
};

}  // namespace tripline::station::test
