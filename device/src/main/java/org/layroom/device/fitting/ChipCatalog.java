package org.layroom.device.fitting;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import java.util.stream.Collector;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.layroom.device.chip.Ads1115;
import org.layroom.device.chip.Bme280;
import org.layroom.device.chip.Mlx90614;
import org.layroom.device.chip.Sgp40;
import org.layroom.device.chip.Sht4x;
import org.layroom.device.config.InfraredSettings;
import org.layroom.device.config.PidSettings;
import org.layroom.device.sampling.AirSensor;
import org.layroom.device.sampling.InfraredSensor;
import org.layroom.device.sampling.PidSensor;
import org.layroom.device.sampling.ValueOrigin;
import org.layroom.device.sampling.VocLevelSensor;
import org.layroom.device.sampling.VocSensor;
import org.layroom.device.telemetry.Series;

/**
 * Every kind of chip that Layroom knows, in the order in which sensors are looked for and read: the
 * air before the vapor sensor, which is corrected by it. A new chip is one entry here.
 */
public record ChipCatalog(List<ChipKind> kinds) {
  private static final String BME280 = "BME280";

  private static final ChipCatalog STANDARD =
      new ChipCatalog(
          List.of(
              sht4x(),
              bme280(),
              new OneWireChip(
                  "DS18B20",
                  List.of(Series.MOLD_TEMPERATURE, Series.RESIN_TEMPERATURE),
                  "on GPIO 4"),
              mlx90614(),
              sgp40(),
              ads1115()));

  /**
   * A catalog.
   *
   * @throws IllegalArgumentException when two kinds have one name
   */
  public ChipCatalog {
    kinds = List.copyOf(kinds);
    Set<String> names = new HashSet<>();
    for (ChipKind kind : kinds) {
      if (!names.add(kind.name())) {
        throw new IllegalArgumentException("two kinds of chip are called " + kind.name());
      }
    }
  }

  /** The chips that Layroom ships drivers for. */
  public static ChipCatalog standard() {
    return STANDARD;
  }

  /** The same with one more kind, read last. */
  public ChipCatalog with(ChipKind kind) {
    List<ChipKind> more = new ArrayList<>(kinds);
    more.add(kind);
    return new ChipCatalog(more);
  }

  /** The kinds on the I2C bus. */
  public List<I2cChip> onI2c() {
    return kinds.stream().filter(I2cChip.class::isInstance).map(I2cChip.class::cast).toList();
  }

  /** Which chips give a series and where they are looked for, in words; empty for none. */
  public String givers(String series) {
    return giving(series).map(kind -> kind.name() + " " + kind.where()).collect(commas());
  }

  /** Where the chips that give a series are looked for, in words; empty for none. */
  public String where(String series) {
    return giving(series).map(ChipKind::where).collect(commas());
  }

  private Stream<ChipKind> giving(String series) {
    return kinds.stream().filter(kind -> kind.gives().contains(series));
  }

  private static Collector<CharSequence, ?, String> commas() {
    return Collectors.joining(", ");
  }

  private static I2cChip sht4x() {
    return new I2cChip(
            "SHT4x",
            List.of(Series.TEMPERATURE, Series.HUMIDITY),
            List.of(Sht4x.ADDRESS_A, Sht4x.ADDRESS_B, Sht4x.ADDRESS_C),
            (device, context) -> {
              Sht4x chip = new Sht4x(device, context.pace());
              return ChipCandidate.of(chip::present, () -> AirSensor.sht4x(chip, ValueOrigin.LIVE));
            })
        .outranking(BME280);
  }

  private static I2cChip bme280() {
    return new I2cChip(
        BME280,
        List.of(Series.TEMPERATURE, Series.HUMIDITY, Series.PRESSURE),
        List.of(Bme280.ADDRESS_SDO_LOW, Bme280.ADDRESS_SDO_HIGH),
        (device, context) -> {
          Bme280 chip = new Bme280(device, context.pace());
          return ChipCandidate.of(chip::present, () -> AirSensor.bme280(chip, ValueOrigin.LIVE))
              .outrankedAs(() -> AirSensor.barometer(chip, ValueOrigin.LIVE));
        });
  }

  private static I2cChip mlx90614() {
    return new I2cChip(
        "MLX90614",
        List.of(Series.MOLD_TEMPERATURE),
        List.of(Mlx90614.ADDRESS),
        (device, context) -> {
          InfraredSettings settings = context.settings().infrared();
          Mlx90614 chip = new Mlx90614(device, settings.emissivity(), context.pace());
          return ChipCandidate.of(
              chip::present, () -> new InfraredSensor(chip, settings.seriesName()));
        });
  }

  private static I2cChip sgp40() {
    return new I2cChip(
        "SGP40",
        List.of(Series.VOC_RAW, Series.VOC_LEVEL),
        List.of(Sgp40.ADDRESS),
        (device, context) -> {
          Sgp40 chip = new Sgp40(device, context.pace());
          return ChipCandidate.of(
                  chip::present,
                  () -> new VocLevelSensor(voc(chip, context), context.cleanAir(), context.pace()))
              .preparedBy(chip::beginSelfTest);
        });
  }

  private static VocSensor voc(Sgp40 chip, ChipContext context) {
    return context
        .poweredFor()
        .map(already -> VocSensor.poweredFor(already, chip, ValueOrigin.LIVE))
        .orElseGet(() -> new VocSensor(chip, ValueOrigin.LIVE));
  }

  /** Behind it, a PID module. */
  private static I2cChip ads1115() {
    return new I2cChip(
        "ADS1115",
        List.of(Series.PID_VOLTAGE, Series.ISOBUTYLENE, Series.STYRENE_ESTIMATE),
        IntStream.rangeClosed(Ads1115.LOWEST_ADDRESS, Ads1115.HIGHEST_ADDRESS).boxed().toList(),
        (device, context) -> {
          PidSettings settings = context.settings().pid();
          Ads1115 chip = new Ads1115(device, context.pace(), settings.input());
          return ChipCandidate.of(chip::present, () -> new PidSensor(chip, settings.calibration()));
        });
  }
}
