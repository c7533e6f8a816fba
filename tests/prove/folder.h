// A folder with recordings, removed with the test.
#pragma once

#include "tests/temporary_folder.h"

#include <sndfile.hh>

#include <vector>

namespace tripline::prove {

class Folder : public TemporaryFolder {
public:
    /// Two channels of silence at 8 kHz.
    void silence(const std::string& name, int seconds = 1) const {
        SndfileHandle file(*this / name, SFM_WRITE, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 2, 8000);
        const std::vector<short> samples(16000);
        for (int i = 0; i < seconds; ++i) file.writef(samples.data(), 8000);
    }
};

}  // namespace tripline::prove
