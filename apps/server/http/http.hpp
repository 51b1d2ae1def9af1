// The HTTP library. Its <resolv.h> defines a macro `_res` that breaks Eigen's headers when they come after
// it, so they come before.
#pragma once

#include <Eigen/Core>

#include <httplib.h>
