package org.layroom.dashboard.cli;

import org.layroom.dashboard.answer.Answer;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Parameters;

/** {@code layroom pair-device}: gives a device a name and a password at the broker. */
@Command(
    name = "pair-device",
    mixinStandardHelpOptions = true,
    description =
        "Gives a device its password at the broker and shows it once; type it on the device with"
            + " \"layroom-device pair\". A device that is paired again gets a new one.",
    footer = {"", "  layroom pair-device bench", "  layroom pair-device --room annex door"})
final class PairDeviceCommand extends AnswerCommand {
  @Parameters(paramLabel = "DEVICE", description = "Its name, as in its settings.")
  String device = "";

  @Mixin RoomChoice watched = new RoomChoice();

  @Override
  Answer answer() throws Failure {
    return DeviceChange.ask("pair", device, watched);
  }
}
