package org.layroom.predictor.room;

import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Random;

/**
 * An invented room for tests: air, walls and a mold as three heat stores in a row (a textbook
 * thermal network, explicit steps of one minute), weather that wanders over days, sun through
 * clouds, doors, and a heater by habit. It calls nothing of the predictor but the record of a
 * reading.
 */
final class SyntheticRoom {
  /** How the room is heated. */
  enum Heating {
    NONE,
    BY_HAND,
    THERMOSTAT
  }

  private static final Instant START = Instant.parse("2025-10-06T00:00:00Z");

  private final Random random;
  private final Heating heating;
  private double weather;
  private double cloud = 0.5;
  private double air = 14;
  private double walls = 14;
  private double mold = 14;
  private int doorMinutes;
  private double offToday;
  private boolean onToday;
  private final Map<Instant, Double> outdoors = new HashMap<>();

  SyntheticRoom(Heating heating, long seed) {
    this.heating = heating;
    random = new Random(seed);
  }

  Map<Instant, Double> outdoors() {
    return outdoors;
  }

  /** Readings every so many minutes, with gaps of hours now and then. */
  List<RoomReading> days(int days, int everyMinutes, boolean gaps) {
    List<RoomReading> readings = new ArrayList<>();
    int gap = 0;
    for (int minute = 0; minute < days * 1440; minute++) {
      double outdoor = step(minute);
      Instant time = START.plusSeconds(60L * minute);
      if (minute % 60 == 0) {
        outdoors.put(time, outdoor);
      }
      if (minute % everyMinutes != 0) {
        continue;
      }
      if (gaps && gap == 0 && random.nextDouble() < everyMinutes / (6.0 * 1440)) {
        gap = 60 + random.nextInt(1000);
      }
      gap = Math.max(0, gap - everyMinutes);
      if (gap == 0) {
        readings.add(
            new RoomReading(
                time,
                OptionalDouble.of(rounded(air)),
                OptionalDouble.of(Math.max(15, Math.min(99, 75 - 2.5 * (air - outdoor)))),
                OptionalDouble.of(rounded(mold))));
      }
    }
    return readings;
  }

  private double rounded(double value) {
    return Math.round((value + 0.04 * random.nextGaussian()) * 16) / 16.0;
  }

  private double step(int minute) {
    int day = minute / 1440;
    double hour = minute % 1440 / 60.0;
    weather += -weather / (3.0 * 1440) + 0.075 * random.nextGaussian();
    cloud = Math.max(0, Math.min(1, cloud + 0.01 * random.nextGaussian()));
    double outdoor =
        8
            - 6 * Math.sin(day / 58.0)
            + weather
            + (4 - 2.5 * cloud) * Math.cos(2 * Math.PI * (hour - 15) / 24);
    double sun = Math.max(0, Math.sin(Math.PI * (hour - 7) / 10)) * (1 - cloud);
    double heater = heat(day, hour);
    if (doorMinutes == 0 && hour > 7 && hour < 20 && random.nextDouble() < 0.002) {
      doorMinutes = 2 + random.nextInt(25);
    }
    double leak = doorMinutes > 0 ? 1 / 25.0 : 1 / 400.0;
    doorMinutes = Math.max(0, doorMinutes - 1);
    double intoAir =
        leak * (outdoor - air) + (walls - air) / 60 + (mold - air) / 900 + heater + 0.01 * sun;
    walls += (air - walls) / 900 + (outdoor - walls) / 2400 + 0.0015 * sun;
    mold += (air - mold) / 45;
    air += intoAir;
    return outdoor;
  }

  /** Warming of the air, K a minute. */
  private double heat(int day, double hour) {
    if (hour == 0) {
      onToday = day % 7 < 5 ? random.nextDouble() < 0.85 : random.nextDouble() < 0.3;
      offToday = 16 + 4 * random.nextDouble();
    }
    return switch (heating) {
      case NONE -> 0;
      case BY_HAND -> onToday && hour > 8 && hour < offToday && air < 20 ? 0.12 : 0;
      case THERMOSTAT -> {
        double wanted = hour > 6.5 && hour < 22 ? 21 : 17;
        yield Math.max(0, Math.min(0.15, 0.1 * (wanted - air)));
      }
    };
  }
}
