package org.layroom.dashboard.alarms.second;

import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Random;
import org.layroom.dashboard.alarms.Happening;
import org.layroom.dashboard.alarms.second.Scenario.Trouble;

/** A sensor on its device, with all that goes wrong between the air and a reading. */
final class Mounted {
  private final SecondShop shop;
  private final Scenario plot;
  private final String device;
  private final Random random;
  private final Chip chip;
  private final Detector detector;
  private boolean dark;
  private boolean cold;
  private boolean unplugged;
  private double lastTicks;
  private double held = -1;

  Mounted(SecondShop shop, String device, Random random) {
    this.shop = shop;
    this.device = device;
    this.random = random;
    plot = shop.plot();
    chip = new Chip(shop.chip(device), plot.climate, random);
    detector = new Detector(shop.detector(), random);
    lastTicks = shop.chip(device).cleanTicks();
    if (plot.coldAtFirst) {
      chip.restarted(true);
    }
  }

  String device() {
    return device;
  }

  /** Goes on to a moment and reads, if it can. */
  void read(double second, double passed, Course.Felt air, Weather weather, List<Happening> out) {
    boolean noPower = plot.has(Trouble.NO_POWER, device, second);
    if (noPower || plot.has(Trouble.PROGRAM_DOWN, device, second)) {
      dark = true;
      cold |= noPower;
      return;
    }
    if (dark) {
      out.add(new Happening.DeviceRestarted(device));
      chip.restarted(cold);
      dark = false;
      cold = false;
    }
    if (plot.has(Trouble.UNPLUGGED, device, second)) {
      unplugged = true;
      out.add(new Happening.ReadFailed(device, "no answer"));
      return;
    }
    if (unplugged) {
      unplugged = false;
      chip.restarted(true);
    }
    if (shop.isDetector()) {
      detector(second, passed, air, weather, out);
    } else {
      chip(second, passed, air, weather, out);
    }
  }

  private void detector(
      double second, double passed, Course.Felt air, Weather weather, List<Happening> out) {
    double humidity = weather.humidityPct();
    double fresh = detector.read(passed, air.styrene(), air.acetone(), air.ethanol(), humidity);
    double reading = spoilt(second, fresh, 500 * (random.nextBoolean() ? 1 : -1));
    double signal = Math.min(shop.detector().endPpm(), reading);
    double shown = Math.max(0, signal);
    if (failed(second)) {
      out.add(new Happening.ReadFailed(device, "no answer"));
      return;
    }
    out.add(new Happening.PidRead(device, shown, detector.volts(signal), detector.atEnd(shown)));
  }

  private void chip(
      double second, double passed, Course.Felt air, Weather weather, List<Happening> out) {
    boolean told = !plot.has(Trouble.NO_CLIMATE, device, second);
    Chip.Make make = shop.chip(device);
    double ethanol =
        make.styrene() * air.styrene() + make.acetone() * air.acetone() + air.ethanol();
    double celsius = weather.celsius();
    double humidity = weather.humidityPct();
    double fresh = chip.read(passed, ethanol, celsius, humidity, told);
    double ticks = spoilt(second, fresh, 6000 * (random.nextBoolean() ? 1 : -1));
    if (chip.heatedS() < Chip.DISCARDED_S) {
      out.add(new Happening.ReadFailed(device, "warming up"));
      return;
    }
    if (failed(second)) {
      out.add(new Happening.ReadFailed(device, "checksum"));
      return;
    }
    lastTicks = fresh;
    Optional<String> doubt =
        chip.heatedS() < Chip.SETTLING_S ? Optional.of("settling") : Optional.empty();
    // CHOICE within data sheets: 0.2 degC and 1 % of noise.
    OptionalDouble shownC = told ? noisy(celsius, 0.2) : OptionalDouble.empty();
    OptionalDouble shownPct = told ? noisy(humidity, 1) : OptionalDouble.empty();
    out.add(new Happening.ChipRead(device, ticks, shownC, shownPct, doubt));
  }

  private OptionalDouble noisy(double value, double size) {
    return OptionalDouble.of(Math.rint(100 * (value + size * random.nextGaussian())) / 100);
  }

  private boolean failed(double second) {
    return random.nextDouble() < plot.share(Trouble.FAILED_READS, device, second);
  }

  /** The fresh value, or one that stands still, or one that is far off. */
  private double spoilt(double second, double fresh, double off) {
    if (plot.has(Trouble.STUCK, device, second)) {
      held = held < 0 ? fresh : held;
      return held;
    }
    held = -1;
    boolean wrong = random.nextDouble() < plot.share(Trouble.WRONG_READS, device, second);
    return wrong ? fresh + off : fresh;
  }

  /** A clean-air reading of a chip: its last value. */
  void cleanAirTaken(List<Happening> out) {
    if (!shop.isDetector() && !dark && !unplugged) {
      out.add(new Happening.CleanAirTaken(device, lastTicks));
    }
  }
}
