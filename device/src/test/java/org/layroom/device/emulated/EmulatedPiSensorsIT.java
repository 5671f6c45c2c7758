package org.layroom.device.emulated;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;
import static org.layroom.device.emulated.Arrivals.fault;
import static org.layroom.device.emulated.Arrivals.good;
import static org.layroom.device.emulated.Arrivals.suspect;
import static org.layroom.device.emulated.Arrivals.tellsOf;
import static org.layroom.device.emulated.PiBench.I2C;
import static org.layroom.device.emulated.PiBench.MIX_LAMP;
import static org.layroom.device.emulated.PiBench.MOLD;
import static org.layroom.device.emulated.PiBench.ONE_WIRE;
import static org.layroom.device.emulated.PiBench.WAIT_LAMP;

import java.util.List;
import java.util.function.Predicate;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.extension.ExtendWith;
import org.layroom.device.telemetry.DeviceMessage.Sample;
import org.layroom.device.telemetry.Reading;
import org.layroom.device.telemetry.SampleTime;

/**
 * The shipped device on an emulated Raspberry Pi 3B whose clock was never set, looked at from
 * outside through a real broker: figures set in the simulated chips arrive, and chips and wires
 * fail by turns.
 */
@Tag("emulated-pi")
@ExtendWith(OnePi.class)
@Order(1)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
class EmulatedPiSensorsIT {
  private final PiBench bench;
  private final Arrivals came;

  EmulatedPiSensorsIT(PiBench bench) {
    this.bench = bench;
    came = new Arrivals(bench);
  }

  @AfterEach
  void repair() throws Exception {
    bench.repair();
  }

  @Test
  @Order(1)
  void figuresSetInTheChipsArriveWithTheAgeOfTheSampleAsTheClockIsNotSet() throws Exception {
    Sample sample = came.awaitReading("temperature", good(25.0, 0.001));
    assertTrue(
        came.readings(sample, "humidity").stream().allMatch(good(56.501, 0.001)), "" + sample);
    assertTrue(came.readings(sample, "pressure").stream().allMatch(good(100_653.27, 0.01)));
    assertEquals(1, came.readings(sample, "pressure").size());
    assertTrue(came.readings(sample, "mold-temperature").stream().allMatch(good(25.0625, 0.001)));
    assertEquals(1, came.readings(sample, "mold-temperature").size());
    assertTrue(came.readings(sample, "resin-temperature").stream().allMatch(good(10.125, 0)));
    assertEquals(1, came.readings(sample, "resin-temperature").size());
    assertTrue(
        came.readings(sample, "mold-temperature/infrared").stream().allMatch(good(28.01, 0.001)));
    assertEquals(1, came.readings(sample, "mold-temperature/infrared").size());
    assertEquals(1, came.readings(sample, "pid-voltage").size());
    assertTrue(came.readings(sample, "styrene-estimate").isEmpty(), "not calibrated");
    assertInstanceOf(SampleTime.Ago.class, sample.time());
    came.awaitStatus(s -> s.online() && s.since().isEmpty() && s.faults().isEmpty());
  }

  @Test
  @Order(2)
  void changesAreSeenAndAJumpIsDoubted() throws Exception {
    bench.set(I2C + "sht4x_t", 0x6C00);
    bench.set(I2C + "sht4x_rh", 0x9000);
    came.awaitReading("temperature", good(28.829, 0.001));
    came.awaitReading("humidity", good(64.314, 0.001));
    bench.setThermometers(0xFF5E, 0x00A2);
    came.awaitReading("mold-temperature", suspect(-10.125, 0, "jumped"));
    came.awaitReading("mold-temperature", good(-10.125, 0));
    bench.set(I2C + "sht4x_t", 0x6666);
    bench.set(I2C + "sht4x_rh", 0x8000);
    bench.setThermometers(0x0191, 0x00A2);
    came.awaitAllWell();
  }

  /** SGP40 data sheet: humidity x 65535 / 100, (temperature + 45) x 65535 / 175. */
  @Test
  @Order(3)
  void theVaporChipHearsOfTheAirAndIsDoubtedWhileItSettles() throws Exception {
    came.awaitReading("voc-raw", suspect(30_000, 0, "settling"));
    bench.set(I2C + "sgp40_raw", 29_000);
    came.awaitReading("voc-raw", suspect(29_000, 0, "settling"));
    assertEquals(List.of("37028"), bench.pi().run("cat " + I2C + "sgp40_told_rh"));
    assertEquals(List.of("26214"), bench.pi().run("cat " + I2C + "sgp40_told_t"));
  }

  @Test
  @Order(4)
  void aChipThatNoLongerAnswersIsAFaultOfItsOwn() throws Exception {
    bench.set(I2C + "silent", 0x44);
    Sample sample = came.awaitReading("temperature", good(25.082, 0.001));
    assertTrue(came.readings(sample, "humidity").stream().allMatch(good(45.249, 0.1)), "" + sample);
    assertTrue(came.readings(sample, "pressure").stream().allMatch(good(100_653.27, 0.01)));
    assertTrue(came.readings(sample, "mold-temperature").stream().allMatch(good(25.0625, 0.001)));
    came.awaitStatus(tellsOf("SHT4x", "no answer at I2C address 0x44"));
    bench.set(I2C + "damaged", 0x44);
    bench.set(I2C + "silent", 0x76);
    sample = came.awaitReading("temperature", fault("CRC"));
    assertTrue(came.readings(sample, "humidity").stream().allMatch(fault("CRC")), "" + sample);
    came.awaitReading("voc-raw", suspect(29_000, 0, "not corrected"));
    assertEquals(
        List.of("32768"), bench.pi().run("cat " + I2C + "sgp40_told_rh"), "the sheet's default");
    bench.set(I2C + "damaged", 0);
    came.awaitReading("pressure", fault("no answer at I2C address 0x76"));
    came.awaitStatus(tellsOf("BME280", "0x76"));
    bench.set(I2C + "silent", 0x59);
    came.awaitReading("voc-raw", fault("no answer at I2C address 0x59"));
    came.awaitStatus(tellsOf("SGP40", "0x59"));
    bench.set(I2C + "silent", 0);
    came.awaitReading("pressure", good(100_653.27, 0.01));
    came.awaitAllWell();
  }

  @Test
  @Order(5)
  void aWrongCheckByteIsAFaultAndNotANumber() throws Exception {
    bench.set(I2C + "damaged", 0x44);
    came.awaitReading("temperature", good(25.082, 0.001));
    came.awaitStatus(tellsOf("SHT4x", "CRC"));
    bench.set(I2C + "damaged", 0x5a);
    came.awaitReading("mold-temperature/infrared", fault("CRC"));
    bench.set(I2C + "damaged", 0x59);
    came.awaitReading("voc-raw", fault("CRC"));
    came.awaitStatus(tellsOf("SGP40", "CRC"));
    bench.set(I2C + "damaged", 0);
    came.awaitAllWell();
  }

  @Test
  @Order(6)
  void aMoldThermometerThatIsUnpluggedDamagedOrJustPoweredOnIsAFaultUntilItWorksAgain()
      throws Exception {
    String known = "/sys/bus/w1/devices/" + MOLD;
    bench.set(ONE_WIRE + "absent", "1,0");
    Sample sample = came.awaitReading("mold-temperature", fault(""));
    assertTrue(came.readings(sample, "resin-temperature").stream().allMatch(good(10.125, 0)));
    bench.pi().run("while [ -e " + known + " ]; do usleep 200000; done");
    came.awaitReading("mold-temperature", fault("does not answer"));
    came.awaitReading("resin-temperature", good(10.125, 0));
    came.awaitStatus(tellsOf("mold-temperature", "does not answer"));
    bench.set(ONE_WIRE + "absent", "0,0");
    came.awaitReading("mold-temperature", good(25.0625, 0.001));
    bench.set(ONE_WIRE + "damaged", "1,0");
    came.awaitReading("mold-temperature", fault("check"));
    bench.set(ONE_WIRE + "damaged", "0,0");
    came.awaitReading("mold-temperature", good(25.0625, 0.001));
    bench.setThermometers(0x0550, 0x00A2);
    came.awaitReading("mold-temperature", fault("85 °C"));
    bench.setThermometers(0x0191, 0x00A2);
    came.awaitAllWell();
  }

  /** Where the kernel has therm_bulk_read, both thermometers are read by it and still are right. */
  @Test
  @Order(7)
  void bothThermometersConvertAtOnceWhereTheKernelCan() throws Exception {
    String bulk = "/sys/bus/w1/devices/w1_bus_master1/therm_bulk_read";
    System.out.println(
        "EmulatedPiSensorsIT: therm_bulk_read: "
            + bench.pi().run("ls -l " + bulk + " 2>&1; cat " + bulk + " 2>&1; true"));
    bench.setThermometers(0x0140, 0x0140);
    Sample sample = came.awaitReading("resin-temperature", suspectOrGood(20));
    assertTrue(came.readings(sample, "mold-temperature").stream().allMatch(suspectOrGood(20)));
    bench.setThermometers(0x0191, 0x00A2);
    came.awaitReading("mold-temperature", good(25.0625, 0.001));
    came.awaitReading("resin-temperature", good(10.125, 0));
  }

  private static Predicate<Reading> suspectOrGood(double celsius) {
    return reading ->
        reading.value().isPresent() && Math.abs(reading.value().getAsDouble() - celsius) < 0.001;
  }

  /** As on a long wire beside a motor: each answer is lost by one in 20. */
  @Test
  @Order(8)
  void badReadsNowAndThenAreAskedForAgainAndTakeNoValueAway() throws Exception {
    bench.set(I2C + "bad_one_in", 20);
    long before = came.last() + 1;
    came.await(() -> came.last() > before + 20);
    bench.set(I2C + "bad_one_in", 0);
    for (String name : List.of("temperature", "humidity", "voc-raw", "pid-voltage")) {
      long missing =
          bench.dashboard().samples().values().stream()
              .filter(sample -> sample.position().orElseThrow().sequence() > before)
              .flatMap(sample -> came.readings(sample, name).stream())
              .filter(reading -> reading.value().isEmpty())
              .count();
      assertEquals(0, missing, name);
    }
  }

  /**
   * Mold and can as warm as every can wants, 15 to 35 degC, and the air not known yet; then the
   * mold at 10.125 degC.
   */
  @Test
  @Order(9)
  void onAColdMoldTheWaitLampIsSteadyAndReadyToMixIsDark() throws Exception {
    bench.setThermometers(0x0191, 0x0140);
    came.awaitReading("resin-temperature", good(20, 0));
    bench.awaitLine(WAIT_LAMP, "lo", "air unknown: slow flashes");
    bench.awaitLine(WAIT_LAMP, "hi", "air unknown: slow flashes");
    bench.setThermometers(0x00A2, 0x0140);
    came.awaitReading("mold-temperature", good(10.125, 0));
    bench.holdsLine(WAIT_LAMP, "hi");
    bench.isNotLit(MIX_LAMP);
    bench.setThermometers(0x0191, 0x00A2);
    came.awaitAllWell();
  }
}
