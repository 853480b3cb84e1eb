// Reading the folder of the built app from the disk, once.
#pragma once

#include <string>
#include <vector>

#include "base/result.h"
#include "server/site.h"

namespace drawoff::server {

// The files below `folder`, all of them; it must hold index.html. Left out: what a link leads to,
// since that may lie anywhere, and names that start with a dot. Fails, in a sentence, if it is
// missing, not the app, not readable, or much too large for one (128 MiB, 5000 files).
base::Result<std::vector<File>> read_folder(const std::string& folder);

}  // namespace drawoff::server
