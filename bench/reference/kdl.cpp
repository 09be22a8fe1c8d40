// What the solvers of Orocos KDL do on one core with the chains, targets and starts that bench/kdl.ts writes.
// Usage: kdl CASES; prints a JSON line a measurement. A solution counts when forward kinematics of its joints is within
// TOLERANCE of the target [m, rad] and every joint is inside its range, whole turns taken off.
#include <kdl/chain.hpp>
#include <kdl/chainfksolverpos_recursive.hpp>
#include <kdl/chainiksolverpos_lma.hpp>
#include <kdl/chainiksolverpos_nr_jl.hpp>
#include <kdl/chainiksolvervel_pinv.hpp>

#include <cmath>
#include <ctime>
#include <fstream>
#include <functional>
#include <iostream>
#include <random>
#include <string>
#include <vector>

using namespace KDL;

namespace {

const double TOLERANCE = 1e-6;
const int TRIES = 10;

struct Case {
  Frame target;
  JntArray start;
};

struct Rig {
  std::string name;
  Chain chain;
  std::vector<bool> turns;
  JntArray low, high;
  std::vector<Case> cold, warm;
};

/** Seconds of processor time of this thread. */
double cpuSeconds() {
  timespec now;
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return now.tv_sec + 1e-9 * now.tv_nsec;
}

Frame readFrame(std::istream &in) {
  double m[9], p[3];
  for (double &value : m) in >> value;
  for (double &value : p) in >> value;
  return Frame(Rotation(m[0], m[1], m[2], m[3], m[4], m[5], m[6], m[7], m[8]), Vector(p[0], p[1], p[2]));
}

Joint jointOf(bool turns, const Vector &along) {
  if (along.x() == 1) return Joint(turns ? Joint::RotX : Joint::TransX);
  if (along.y() == 1) return Joint(turns ? Joint::RotY : Joint::TransY);
  if (along.z() == 1) return Joint(turns ? Joint::RotZ : Joint::TransZ);
  return Joint(Vector::Zero(), along, turns ? Joint::RotAxis : Joint::TransAxis);
}

std::vector<Case> readCases(std::istream &in, unsigned joints) {
  int count;
  in >> count;
  std::vector<Case> cases(count, Case{Frame(), JntArray(joints)});
  for (Case &one : cases) {
    one.target = readFrame(in);
    for (unsigned i = 0; i < joints; i++) in >> one.start(i);
  }
  return cases;
}

/** A segment is a joint and what follows it: the next joint's origin, or the mount. */
bool readRig(std::istream &in, Rig &rig) {
  unsigned joints;
  if (!(in >> rig.name >> joints)) return false;
  rig.low.resize(joints);
  rig.high.resize(joints);
  std::vector<Joint> made;
  std::vector<Frame> origins;
  for (unsigned i = 0; i < joints; i++) {
    int turns;
    double x, y, z;
    in >> turns >> x >> y >> z;
    rig.turns.push_back(turns != 0);
    made.push_back(jointOf(turns != 0, Vector(x, y, z)));
    origins.push_back(readFrame(in));
    in >> rig.low(i) >> rig.high(i);
  }
  origins.push_back(readFrame(in));
  if (!Equal(origins[0], Frame::Identity(), 0)) rig.chain.addSegment(Segment(Joint(Joint::None), origins[0]));
  for (unsigned i = 0; i < joints; i++) rig.chain.addSegment(Segment(made[i], origins[i + 1]));
  rig.cold = readCases(in, joints);
  rig.warm = readCases(in, joints);
  return true;
}

void randomise(const Rig &rig, std::mt19937_64 &random, JntArray &q) {
  for (unsigned i = 0; i < q.rows(); i++) q(i) = std::uniform_real_distribution<double>(rig.low(i), rig.high(i))(random);
}

bool isInside(const Rig &rig, JntArray q) {
  for (unsigned i = 0; i < q.rows(); i++) {
    if (rig.turns[i]) {
      q(i) = std::remainder(q(i), 2 * M_PI);
      if (q(i) < rig.low(i) - 1e-9) q(i) += 2 * M_PI;
      if (q(i) > rig.high(i) + 1e-9) q(i) -= 2 * M_PI;
    }
    if (q(i) < rig.low(i) - 1e-9 || q(i) > rig.high(i) + 1e-9) return false;
  }
  return true;
}

bool isReached(ChainFkSolverPos_recursive &fk, const JntArray &q, const Frame &target) {
  Frame there;
  fk.JntToCart(q, there);
  const Twist off = diff(there, target);
  return off.vel.Norm() < TOLERANCE && off.rot.Norm() < TOLERANCE;
}

using Solve = std::function<void(const JntArray &, const Frame &, JntArray &)>;

void measure(const Rig &rig, const char *start, const char *solver, const Solve &solve) {
  const std::vector<Case> &cases = std::string(start) == "cold" ? rig.cold : rig.warm;
  ChainFkSolverPos_recursive fk(rig.chain);
  std::vector<JntArray> answers(cases.size(), JntArray(rig.low.rows()));
  const double begin = cpuSeconds();
  for (size_t i = 0; i < cases.size(); i++) solve(cases[i].start, cases[i].target, answers[i]);
  const double spent = cpuSeconds() - begin;
  int solved = 0;
  for (size_t i = 0; i < cases.size(); i++) {
    if (isReached(fk, answers[i], cases[i].target) && isInside(rig, answers[i])) solved++;
  }
  std::cout << "{\"chain\":\"" << rig.name << "\",\"start\":\"" << start << "\",\"solver\":\"" << solver
            << "\",\"count\":" << cases.size() << ",\"solved\":" << solved << ",\"seconds\":" << spent << "}" << std::endl;
}

void measureForward(const Rig &rig) {
  ChainFkSolverPos_recursive fk(rig.chain);
  const int count = 1000000;
  double sum = 0;
  Frame there;
  const double begin = cpuSeconds();
  for (int i = 0; i < count; i++) {
    fk.JntToCart(rig.cold[i % rig.cold.size()].start, there);
    sum += there.p.x();
  }
  const double spent = cpuSeconds() - begin;
  std::cout << "{\"chain\":\"" << rig.name << "\",\"start\":\"none\",\"solver\":\"forward\",\"count\":" << count
            << ",\"solved\":" << (std::isfinite(sum) ? count : 0) << ",\"seconds\":" << spent << "}" << std::endl;
}

}  // namespace

int main(int argc, char **argv) {
  if (argc < 2) return 2;
  std::ifstream in(argv[1]);
  Rig rig;
  while (readRig(in, rig)) {
    measureForward(rig);
    for (const char *start : {"cold", "warm"}) {
      // The default weights of its least squares count a radian for a hundredth of a metre; here both count the same.
      Eigen::Matrix<double, 6, 1> weights;
      weights.setOnes();
      ChainIkSolverPos_LMA lma(rig.chain, weights, TOLERANCE / 2, 500, 1e-15);
      ChainFkSolverPos_recursive fk(rig.chain);
      std::mt19937_64 random(77);
      measure(rig, start, "LMA, unit weights, again until inside the ranges",
              [&](const JntArray &from, const Frame &target, JntArray &out) {
                JntArray at = from;
                for (int tries = 0; tries < TRIES; tries++) {
                  lma.CartToJnt(at, target, out);
                  if (isReached(fk, out, target) && isInside(rig, out)) return;
                  randomise(rig, random, at);
                }
              });
      ChainIkSolverVel_pinv velocity(rig.chain, 1e-5, 150);
      ChainIkSolverPos_NR_JL newton(rig.chain, rig.low, rig.high, fk, velocity, 100, TOLERANCE / 2);
      measure(rig, start, "NR_JL, 100 rounds, again until reached",
              [&](const JntArray &from, const Frame &target, JntArray &out) {
                JntArray at = from;
                for (int tries = 0; tries < TRIES; tries++) {
                  if (newton.CartToJnt(at, target, out) >= 0) return;
                  randomise(rig, random, at);
                }
              });
    }
    rig = Rig();
  }
}
