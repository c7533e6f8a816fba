#include "daemon/study/temporary_sound.h"

#include "daemon/black_box/sound_file.h"

#include <cerrno>
#include <cstdlib>
#include <system_error>

namespace tripline::study {
namespace {

std::filesystem::path make_folder() {
    std::string name = (std::filesystem::temp_directory_path() / "tripline-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) throw std::system_error(errno, std::generic_category(), name);
    return name;
}

}  // namespace

TemporarySound::TemporarySound(const black_box::KeptSound& kept) : folder_(make_folder()) {
    try {
        source_.file = black_box::write_sound(folder_ / "kept", kept.rate, kept.past, black_box::Haste{});
    } catch (...) {
        std::filesystem::remove_all(folder_);
        throw;
    }
}

TemporarySound::~TemporarySound() {
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
}

}  // namespace tripline::study
