package org.layroom.device.chip;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertNotNull;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.List;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import net.jqwik.api.constraints.DoubleRange;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.layroom.device.bus.KernelOneWire;
import org.layroom.device.bus.OneWire;
import org.layroom.device.pace.SteppedPace;
import org.layroom.device.simulated.SimulatedOneWire;
import org.layroom.device.simulated.SimulatedOneWire.Behavior;

/** The DS18B20 driver, on texts as the Linux kernel writes them. */
class Ds18b20Test {
  private static final String ID = "28-0316a279f1ff";

  /** The kernel's form (Documentation/w1/slaves/w1_therm.rst; this text is from memory). */
  private static final String GOOD =
      "72 01 4b 46 7f ff 0e 10 57 : crc=57 YES\n72 01 4b 46 7f ff 0e 10 57 t=23125\n";

  private static ChipRead<Double> read(String text) {
    OneWire wire =
        new OneWire() {
          @Override
          public List<String> ids() {
            return List.of(ID);
          }

          @Override
          public String slaveText(String id) {
            return text;
          }
        };
    return new Ds18b20(wire, ID).read();
  }

  @Test
  void aGoodAnswerIsRead() {
    assertEquals(ChipRead.value(23.125), read(GOOD));
  }

  /** DS18B20 data sheet table 1: -10.125 degC and -55 degC; +125 degC. */
  @Test
  void temperaturesBelowZeroAreRead() {
    assertEquals(ChipRead.value(-10.125), read(GOOD.replace("23125", "-10125")));
    assertEquals(ChipRead.value(-55.0), read(GOOD.replace("23125", "-55000")));
    assertEquals(ChipRead.value(125.0), read(GOOD.replace("23125", "125000")));
  }

  /** DS18B20 data sheet, "operation": the power-on reset value is +85 degC. */
  @Test
  void eightyFiveOutOfNowhereIsAFault() {
    assertInstanceOf(ChipRead.Failed.class, read(GOOD.replace("23125", "85000")));
  }

  @Test
  void badCheckSumsEmptyAnswersAndNonsenseAreFaults() {
    for (String text :
        List.of("", "\n", GOOD.replace("YES", "NO"), GOOD.replace("t=23125", "t="), "t=23125")) {
      assertInstanceOf(ChipRead.Failed.class, read(text), text);
    }
    assertInstanceOf(ChipRead.Failed.class, read(GOOD.replace("23125", "126000")));
    assertInstanceOf(ChipRead.Failed.class, read(GOOD.replace("23125", "99999999999")));
  }

  /** A wire that touches ground: nine zeros, whose check byte is right. */
  @Test
  void nothingButZerosIsAFaultAndNotZeroDegrees() {
    String zeros = "00 00 00 00 00 00 00 00 00 ";
    String text = zeros + ": crc=00 YES\n" + zeros + "t=0\n";
    assertTrue(
        assertInstanceOf(ChipRead.Failed.class, read(text)).reason().contains("zeros"), text);
  }

  @Test
  void theNineBytesAreCheckedWhateverTheKernelSays() {
    assertInstanceOf(ChipRead.Failed.class, read(GOOD.replaceFirst("72", "73")));
    assertInstanceOf(ChipRead.Failed.class, read(GOOD.replaceFirst("72 ", "")));
  }

  @Property
  void anyTextGivesAValueOrAReason(@ForAll String text) {
    assertNotNull(read(text));
    assertNotNull(read(GOOD + text));
    assertNotNull(read(text + GOOD));
  }

  @Property
  void aSimulatedThermometerIsReadToASixteenth(
      @ForAll @DoubleRange(min = -55, max = 84.9) double celsius) {
    SimulatedOneWire wire = new SimulatedOneWire().fit(ID, () -> celsius);
    ChipRead.Value<?> read = assertInstanceOf(ChipRead.Value.class, new Ds18b20(wire, ID).read());
    assertEquals(celsius, (Double) read.value(), 1.0 / 32 + 0.0006);
  }

  @Test
  void everyMisbehaviorIsTold() {
    SimulatedOneWire wire = new SimulatedOneWire().fit(ID, () -> 20);
    Ds18b20 chip = new Ds18b20(wire, ID);
    assertEquals(ChipRead.value(20.0), chip.read());
    for (Behavior behavior : Behavior.values()) {
      wire.behave(ID, behavior);
      boolean works = chip.read() instanceof ChipRead.Value<Double>;
      assertEquals(behavior == Behavior.WORKS, works, behavior.name());
    }
  }

  @Test
  void theKernelsFolderIsRead(@TempDir Path devices) throws Exception {
    Files.createDirectories(devices.resolve(ID));
    Files.createDirectories(devices.resolve("w1_bus_master1"));
    Files.writeString(devices.resolve(ID).resolve("w1_slave"), GOOD);
    KernelOneWire wire = new KernelOneWire(devices, new SteppedPace(Instant.EPOCH));
    assertEquals(List.of(ID), wire.ids());
    assertEquals(ChipRead.value(23.125), new Ds18b20(wire, ID).read());
    assertTrue(
        new Ds18b20(wire, "28-000000000000").read() instanceof ChipRead.Failed<Double> failed
            && failed.reason().contains("does not answer"));
    assertInstanceOf(
        ChipRead.Failed.class, new Ds18b20(wire, "../../etc").read(), "no way out of the folder");
  }
}
