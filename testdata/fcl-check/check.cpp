// Distance and contact of pairs of meshes by the Flexible Collision Library. README.md says what goes in and out.
#include <fcl/fcl.h>

#include <chrono>
#include <cstdint>
#include <cstdio>
#include <cstring>
#include <fstream>
#include <iostream>
#include <map>
#include <memory>
#include <sstream>
#include <string>
#include <vector>

using Model = fcl::BVHModel<fcl::OBBRSSd>;

// readStl returns the triangles of a binary STL file as a model; a short file ends the program.
static std::shared_ptr<Model> readStl(const std::string& name) {
  std::ifstream in(name, std::ios::binary);
  std::string bytes((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  uint32_t count = 0;
  if (bytes.size() >= 84) std::memcpy(&count, &bytes[80], 4);
  if (bytes.size() < 84 || bytes.size() < 84 + 50 * size_t(count)) {
    std::cerr << name << ": not a binary STL file\n";
    std::exit(1);
  }
  std::vector<fcl::Vector3d> points;
  std::vector<fcl::Triangle> triangles;
  for (uint32_t i = 0; i < count; i++) {
    float corner[9];
    std::memcpy(corner, &bytes[84 + 50 * size_t(i) + 12], sizeof corner);
    for (int k = 0; k < 3; k++) points.emplace_back(corner[3 * k], corner[3 * k + 1], corner[3 * k + 2]);
    triangles.emplace_back(3 * i, 3 * i + 1, 3 * i + 2);
  }
  auto model = std::make_shared<Model>();
  model->beginModel(triangles.size(), points.size());
  model->addSubModel(points, triangles);
  model->endModel();
  return model;
}

static double seconds() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "usage: fcl-check QUESTIONS\n";
    return 2;
  }
  std::map<std::string, std::shared_ptr<Model>> models;
  std::ifstream questions(argv[1]);
  for (std::string line; std::getline(questions, line);) {
    std::istringstream words(line);
    std::string first, second;
    fcl::Transform3d pose = fcl::Transform3d::Identity();
    words >> first >> second;
    for (int i = 0; i < 3; i++)
      for (int k = 0; k < 3; k++) words >> pose.linear()(i, k);
    for (int i = 0; i < 3; i++) words >> pose.translation()[i];
    if (!words) {
      std::cerr << "cannot read: " << line << "\n";
      return 1;
    }
    for (const auto& name : {first, second})
      if (!models.count(name)) models[name] = readStl(name);
    const auto a = models[first].get(), b = models[second].get();

    double start = seconds();
    fcl::CollisionRequestd ask(1, false);
    fcl::CollisionResultd contact;
    fcl::collide(a, pose, b, fcl::Transform3d::Identity(), ask, contact);
    const double contactTime = seconds() - start;

    fcl::CollisionRequestd askAll(size_t(1) << 30, false);
    fcl::CollisionResultd contacts;
    fcl::collide(a, pose, b, fcl::Transform3d::Identity(), askAll, contacts);

    start = seconds();
    fcl::DistanceRequestd request;
    fcl::DistanceResultd result;
    const double distance = fcl::distance(a, pose, b, fcl::Transform3d::Identity(), request, result);
    std::printf("%.17g %zu %.9f %.9f\n", distance, contacts.numContacts(), seconds() - start, contactTime);
  }
}
