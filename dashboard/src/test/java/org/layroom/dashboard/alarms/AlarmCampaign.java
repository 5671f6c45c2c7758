package org.layroom.dashboard.alarms;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.ServiceLoader;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.layroom.dashboard.warning.DashboardFloor;

/**
 * Judges the vapor alarm of both floors over a simulation and prints its table: {@code sh
 * .ci/alarms}. Ends with 1 where a goal is missed.
 */
public final class AlarmCampaign {
  private static final long SEED = 19;

  private AlarmCampaign() {}

  /**
   * Runs it.
   *
   * @param args the simulation's name, and a file for the table; of a part only with {@code
   *     -Dlayroom.part=WORDS}, which "scenario / sensor" must contain
   */
  public static void main(String[] args) throws IOException {
    List<Finding> findings = run(args[0], System.getProperty("layroom.part", ""));
    Files.writeString(Path.of(args[1]), Table.of(findings));
    System.exit(findings.stream().allMatch(one -> one.fallsShort().isEmpty()) ? 0 : 1);
  }

  /** All findings of a simulation, in the order of its shops, the device before the dashboard. */
  static List<Finding> run(String name, String part) {
    Shops shops =
        ServiceLoader.load(Shops.class).stream()
            .map(ServiceLoader.Provider::get)
            .filter(one -> one.name().equals(name))
            .findFirst()
            .orElseThrow(
                () -> new IllegalArgumentException("There is no simulation called " + name));
    List<Shop> all =
        shops.all().stream()
            .filter(one -> (one.scenario() + " / " + one.sensitivity()).contains(part))
            .toList();
    return IntStream.range(0, all.size())
        .parallel()
        .mapToObj(index -> judged(all.get(index), SEED + index))
        .flatMap(List::stream)
        .toList();
  }

  private static List<Finding> judged(Shop shop, long seed) {
    try {
      Path folder = Files.createTempDirectory("alarms");
      try (Floor device = new DeviceFloor(shop, Judge.START);
          Floor dashboard = new DashboardFloor(shop, Judge.START, folder)) {
        return Judge.judge(shop, device, dashboard, seed);
      } finally {
        remove(folder);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static void remove(Path folder) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      files.sorted(Comparator.reverseOrder()).forEach(file -> file.toFile().delete());
    }
  }
}
