// What the callback must not do: every allocation and every lock of this program is counted.
#include "daemon/station/engine.h"

#include "tests/dsp/allocations.h"
#include "tests/station/sounds.h"

#include <dlfcn.h>
#include <pthread.h>

#include <gtest/gtest.h>

#include <mutex>
#include <new>

namespace {

thread_local bool counting = false;
thread_local std::size_t locks = 0;

}  // namespace

extern "C" int pthread_mutex_lock(pthread_mutex_t* mutex) noexcept {
    using Lock = int (*)(pthread_mutex_t*);
    static const Lock real = reinterpret_cast<Lock>(::dlsym(RTLD_NEXT, "pthread_mutex_lock"));
    if (counting) ++locks;
    return real(mutex);
}

namespace tripline::station::test {
namespace {

using std::chrono_literals::operator""ms;
using std::chrono_literals::operator""s;

struct Count {
    std::size_t events = 0;
    long allocations = 0;
    std::size_t locks = 0;
};

class Counter final : public EventSink {
public:
    void take(const Event&) noexcept override { ++events; }
    std::size_t events = 0;
};

template <typename Work>
Count count(Work work) {
    Counter counter;
    const long before = dsp::allocations();
    locks = 0;
    counting = true;
    work(counter);
    counting = false;
    return {counter.events, dsp::allocations() - before, locks};
}

TEST(TheCallback, IsWatchedByHooksThatSeeAnAllocationAndALock) {
    const Count seen = count([](EventSink&) {
        ::operator delete(::operator new(1));  // as calls they are not left out
        std::mutex mutex;
        const std::lock_guard lock(mutex);
    });
    EXPECT_EQ(seen.allocations, 1);
    EXPECT_EQ(seen.locks, 1U);
}

TEST(TheCallback, NeitherAllocatesNorLocksThroughAWholeSession) {
    const Hertz rate{48000};
    Settings settings;
    settings.limits.longest_over = 2s;
    settings.transmit_audio.look_ahead = 100ms;
    Engine engine(settings, rate);
    Samples microphone =
        room(1s, rate) + syllables(4s, rate) + room(5s, rate) + syllables(1s, rate);
    microphone[microphone.size() - 3000] = std::numeric_limits<float>::quiet_NaN();
    const Samples receiver = syllables(11s, rate, 2);
    Samples transmitter(microphone.size());
    Samples loudspeaker(microphone.size());
    const Count seen = count([&](EventSink& sink) {
        engine.process({microphone, receiver, transmitter, loudspeaker}, sink);
        engine.set_mode(Mode::keyed);
        engine.set_reload(true);
        engine.set_fault(true);
        engine.process({microphone, receiver, transmitter, loudspeaker}, sink);
    });
    EXPECT_GE(seen.events, 10U);
    EXPECT_EQ(seen.allocations, 0);
    EXPECT_EQ(seen.locks, 0U);
}

}  // namespace
}  // namespace tripline::station::test
