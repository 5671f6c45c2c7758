package org.layroom.dashboard.alarms.second;

import java.util.Random;

/**
 * The room's temperature and humidity: a daily wave, slow wandering, and what airing brings in.
 *
 * <p>All CHOICE: the wave has its top at 15:00; humidity falls 2 points for each degree above the
 * mean; temperature wanders by 0.6 degC over two hours, humidity by 3 points over three; an aired
 * room goes toward the outdoors in 20 minutes and comes back in 40.
 */
final class Weather {
  private final Random random;
  private final Climate climate;
  private double wanderC;
  private double wanderPct;
  private double airedIn;
  private double celsius;
  private double humidityPct;

  /**
   * What a room's days are like.
   *
   * @param meanC of the room
   * @param waveC half of the day's swing
   * @param meanPct relative humidity
   * @param outdoorsC how far the outdoors lies from the room: usually below zero
   * @param outdoorsPct the same of its humidity
   */
  record Climate(
      double meanC, double waveC, double meanPct, double outdoorsC, double outdoorsPct) {}

  Weather(Climate climate, Random random) {
    this.climate = climate;
    this.random = random;
    celsius = climate.meanC();
    humidityPct = climate.meanPct();
  }

  /**
   * Goes on.
   *
   * @param hourOfDay 0-24 and on
   * @param changesPerHour of air
   */
  void go(double seconds, double hourOfDay, double changesPerHour) {
    wanderC += wander(seconds, 7200, 0.6, wanderC);
    wanderPct += wander(seconds, 10800, 3, wanderPct);
    double open = Math.min(1, changesPerHour / 10);
    airedIn += (open - airedIn) * seconds / (open > airedIn ? 1200 : 2400);
    double wave = climate.waveC() * Math.cos(2 * Math.PI * (hourOfDay - 15) / 24);
    celsius = climate.meanC() + wave + wanderC + airedIn * climate.outdoorsC();
    double damp = climate.meanPct() - 2 * wave + wanderPct + airedIn * climate.outdoorsPct();
    humidityPct = Math.max(10, Math.min(98, damp));
  }

  private double wander(double seconds, double holds, double size, double now) {
    return -now * seconds / holds + size * Math.sqrt(2 * seconds / holds) * random.nextGaussian();
  }

  double celsius() {
    return celsius;
  }

  double humidityPct() {
    return humidityPct;
  }

  /**
   * Water in the air, g/m3. PUBLISHED: Magnus with 17.62 and 243.12 degC, WMO-No. 8.
   *
   * @param celsius above -40
   */
  static double waterGramsPerM3(double celsius, double humidityPct) {
    double hPa = humidityPct / 100 * 6.112 * Math.exp(17.62 * celsius / (243.12 + celsius));
    return 216.68 * hPa / (273.15 + celsius);
  }
}
