// Φ and its density φ at many evenly spaced places at once: kept on seventeen shifted rows of the spacing and
// read between two of them, so that a row costs a few multiplications a place.
#pragma once

#include <cstddef>
#include <vector>

namespace seatwright::forecast {

class NormalRows {
  public:
    // `step`: between two places, in standard deviations, from 0.01 to 1.
    explicit NormalRows(double step);
    double step() const { return step_; }
    // Φ and φ at z, z + step, …, n of them; 2e-8.
    void of(double z, std::size_t n, double* below, double* density) const;
    void of(double z, std::size_t n, double* below) const;

  private:
    double step_;
    std::size_t long_ = 0;
    std::vector<double> below_, density_, slope_;  // [shift][place]
};

// Σ over the last of several independent normals: with `inside` what one of them has within reach and
// `density` what it has just there, the chance that one of them lies there and the others within reach is
// kept up: density_of_all = density_of_all·inside + within·density, within = within·inside.
void take_in(std::size_t n, const double* above, const double* below, const double* density, double* within,
             double* density_of_all);
// The same without what is below: the reach has no other end.
void take_in(std::size_t n, const double* above, const double* density, double* within,
             double* density_of_all);

}  // namespace seatwright::forecast
