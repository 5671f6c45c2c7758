package org.layroom.dashboard.cli;

import org.layroom.dashboard.answer.Answer;
import org.layroom.dashboard.app.StartFailure;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code layroom pair-device}: gives a device a name and a password at the broker. */
@Command(
    name = "pair-device",
    mixinStandardHelpOptions = true,
    description =
        "Gives a device its broker password and shows it once. Enter it on the device with"
            + " \"layroom-device pair\". Pairing again makes a new password.",
    footer = {"", "  layroom pair-device bench", "  layroom pair-device --room annex door"})
final class PairDeviceCommand extends AnswerCommand {
  @Parameters(paramLabel = "DEVICE", description = "Device name, as in its settings.")
  String device = "";

  @Mixin RoomChoice watched = new RoomChoice();

  @Override
  Answer answer() throws StartFailure {
    return DeviceChange.ask("pair", device, watched);
  }
}
