// A stretch of both channels as a sound file.
#pragma once

#include "daemon/black_box/haste.h"
#include "daemon/black_box/memory.h"

#include <filesystem>

namespace tripline::black_box {

Frames length_of(const Past& past);

/// Bytes that write_sound() takes at most for so many frames.
std::uint64_t most_bytes(Frames frames);

/// FLAC of 24 bits when that loses nothing, as with sound cards of up to 24 bits; else WAV of
/// 32-bit floats. Microphone left, receiver right. `stem` is the path without extension;
/// returns the path. Throws std::runtime_error naming the file, and as `haste` does.
std::filesystem::path write_sound(const std::filesystem::path& stem, Hertz rate, const Past& past, const Haste& haste);

}  // namespace tripline::black_box
