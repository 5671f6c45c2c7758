package org.layroom.device.bus;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What the kernel's {@code rpi_volt} says, in a folder made as its documentation describes it. */
class PowerSupplyTest {
  @Test
  void tooLowAVoltageIsToldAndOtherMonitorsAreNotAsked(@TempDir Path root) throws IOException {
    PowerSupply supply = PowerSupply.below(root);
    assertEquals(Optional.empty(), supply.trouble(), "no monitors at all");
    Path other = Files.createDirectories(root.resolve("sys/class/hwmon/hwmon0"));
    Files.writeString(other.resolve("name"), "cpu_thermal\n");
    Files.writeString(other.resolve("in0_lcrit_alarm"), "1\n");
    assertEquals(Optional.empty(), supply.trouble());
    Path volt = Files.createDirectories(root.resolve("sys/class/hwmon/hwmon1"));
    Files.writeString(volt.resolve("name"), "rpi_volt\n");
    Files.writeString(volt.resolve("in0_lcrit_alarm"), "0\n");
    assertEquals(Optional.empty(), supply.trouble());
    Files.writeString(volt.resolve("in0_lcrit_alarm"), "1\n");
    assertTrue(supply.trouble().orElseThrow().contains("too low"));
  }
}
