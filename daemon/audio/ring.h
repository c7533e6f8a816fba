// The one way between the audio callback and other threads: a wait-free ring with one
// producer thread and one consumer thread.
#pragma once

#include <boost/lockfree/spsc_queue.hpp>

#include <cstddef>
#include <span>
#include <type_traits>

namespace tripline::audio {

/// Holds up to `capacity` values; all memory is taken at construction.
template <class T>
class Ring {
    static_assert(std::is_trivially_copyable_v<T>, "only plain data crosses to the callback and back");

public:
    explicit Ring(std::size_t capacity) : queue_(capacity) {}

    /// Producer. False when full: the value is not taken.
    bool push(const T& value) noexcept { return queue_.push(value); }
    /// Producer. Number of values taken, from the front.
    std::size_t push(std::span<const T> values) noexcept { return queue_.push(values.data(), values.size()); }
    /// Producer. Room left; the consumer can only make it grow.
    std::size_t room() const noexcept { return queue_.write_available(); }

    /// Consumer. False when empty.
    bool pop(T& value) noexcept { return queue_.pop(value); }
    /// Consumer. Number of values put to the front of `values`.
    std::size_t pop(std::span<T> values) noexcept { return queue_.pop(values.data(), values.size()); }
    /// Consumer. Values waiting; the producer can only make it grow.
    std::size_t waiting() const noexcept { return queue_.read_available(); }

private:
    boost::lockfree::spsc_queue<T> queue_;
};

}  // namespace tripline::audio
