package org.layroom.dashboard.alarms.second;

import java.util.ArrayList;
import java.util.List;
import org.layroom.dashboard.alarms.Happening;
import org.layroom.dashboard.alarms.Shop;
import org.layroom.dashboard.alarms.Shops;
import org.layroom.dashboard.alarms.second.Scenario.Trouble;
import org.layroom.dashboard.alarms.second.Source.Vapor;

/**
 * The second simulation: over fifty scenarios with five chips and a detector.
 *
 * <p>Air changes an hour, CHOICE in the project's facts: shut 0.5, a window ajar 2, a window wide
 * or a fan 10; here also 20 with the door open. Masses of resin, times and climates are CHOICE:
 * what a one-person shop does. A chip's answer to styrene of 0.05-1 of that to ethanol is CHOICE in
 * the facts, for no curve is published.
 */
public final class SecondShops implements Shops {
  private static final double SHUT = 0.5;
  private static final double AJAR = 2;
  private static final double FAN = 10;
  private static final double DOOR = 20;
  private static final int DAY = 1440;
  private static final double ALWAYS = 1e7;

  @Override
  public String name() {
    return "second";
  }

  @Override
  public List<Shop> all() {
    List<Scenario> plots = new ArrayList<>();
    nobodyTold(plots);
    jobs(plots);
    solvent(plots);
    starts(plots);
    troubles(plots);
    chips(plots);
    places(plots);
    days(plots);
    List<Shop> shops = new ArrayList<>();
    for (Scenario plot : plots) {
      for (double styrene : new double[] {0.05, 0.1, 0.2, 0.5, 1}) {
        shops.add(new SecondShop(plot, "chip " + styrene, styrene, shops.size()));
      }
      shops.add(new SecondShop(plot, "detector", 0, shops.size()));
    }
    return shops;
  }

  private static void nobodyTold(List<Scenario> to) {
    to.add(shutGarage("shut garage, no job told"));
    to.add(new Scenario("shut garage, small cup", 300, SHUT).laminate(60, 8, 0.22));
    to.add(new Scenario("shut garage, gel coat", 300, SHUT).gelCoat(60, 20, 1));
    to.add(new Scenario("window ajar, no job told", 360, AJAR).laminate(60, 30, 2));
    to.add(
        new Scenario("hot garage, shut", 300, SHUT).climate(31, 4, 45, 0, 0).laminate(60, 25, 2));
    to.add(
        new Scenario("cold garage, shut", 480, 0.3).climate(11, 2, 70, -6, 5).laminate(60, 30, 2));
    to.add(shutGarage("door opened late").air(120, DOOR));
    to.add(
        new Scenario("resin spilled, shut", 240, SHUT)
            .open(Vapor.STYRENE, 60, 150, 59)
            .air(150, DOOR));
    to.add(
        new Scenario("can left open, creeping", 900, 0.3).hour(20).open(Vapor.STYRENE, 30, 900, 5));
    to.add(
        new Scenario("cup runs hot and smokes", 240, SHUT)
            .source(new Source.Wipe(Vapor.STYRENE, 3600, 60, 240)));
    to.add(new Scenario("night, part cures", 840, FAN).hour(17).laminate(30, 40, 2).air(100, 0.3));
  }

  private static void jobs(List<Scenario> to) {
    to.add(new Scenario("aired job, fan", 360, FAN).job(50, 240, 10).laminate(60, 30, 1));
    to.add(new Scenario("aired job, window", 360, AJAR).job(50, 240, 2).laminate(60, 30, 0.6));
    to.add(new Scenario("aired job, big part", 360, DOOR).job(50, 300, 20).laminate(60, 50, 3));
    to.add(shutGarage("job, fan told but off").job(50, 300, 10));
    to.add(shutGarage("job, nothing on").bareJob(50, 300, 0.5));
    to.add(
        new Scenario("fan fails in a first job", 360, FAN)
            .job(50, 300, 10)
            .laminate(60, 40, 3)
            .air(75, SHUT));
    to.add(
        new Scenario("gel coat, then laminate, fan", 480, FAN)
            .job(50, 400, 10)
            .gelCoat(60, 15, 0.7)
            .laminate(150, 30, 1.5));
    to.add(cups("several cups, fan", FAN).job(50, 330, 10));
    to.add(cups("several cups, shut", SHUT).job(50, 330, 10));
    to.add(
        new Scenario("spill in an aired job", 300, FAN)
            .job(50, 240, 10)
            .laminate(60, 30, 1)
            .open(Vapor.STYRENE, 100, 130, 177));
    to.add(
        new Scenario("fan fails in the third job", 3 * DAY, 1)
            .step(20)
            .air(540, FAN)
            .job(550, 750, 10)
            .laminate(560, 30, 1.5)
            .air(900, 1)
            .air(DAY + 540, FAN)
            .job(DAY + 550, DAY + 750, 10)
            .laminate(DAY + 560, 30, 1.5)
            .air(DAY + 900, 1)
            .air(2 * DAY + 540, FAN)
            .job(2 * DAY + 550, 2 * DAY + 750, 10)
            .laminate(2 * DAY + 560, 40, 3)
            .air(2 * DAY + 575, SHUT));
  }

  private static Scenario shutGarage(String name) {
    return new Scenario(name, 360, SHUT).laminate(60, 30, 2);
  }

  private static Scenario cups(String name, double changes) {
    Scenario cups = new Scenario(name, 420, changes);
    for (int cup = 0; cup < 6; cup++) {
      cups.laminate(60 + 35 * cup, 15, 0.4);
    }
    return cups;
  }

  private static void solvent(List<Scenario> to) {
    to.add(new Scenario("acetone, one wipe, fan", 180, FAN).wipe(60, 2, 40));
    to.add(new Scenario("acetone, one wipe, door open", 180, 30).wipe(60, 2, 40));
    Scenario wipes = new Scenario("acetone, wipes, window", 240, AJAR);
    for (int wipe = 0; wipe < 6; wipe++) {
      wipes.wipe(60 + 10 * wipe, 3, 60);
    }
    to.add(wipes);
    to.add(new Scenario("acetone bath, shut", 240, SHUT).open(Vapor.ACETONE, 60, 180, 80));
    to.add(
        new Scenario("wiping told, resin spilled", 240, SHUT)
            .told(60, new Happening.Wiping())
            .wipe(60, 2, 40)
            .open(Vapor.STYRENE, 62, 120, 177));
    to.add(
        new Scenario("wipe, then an aired job", 360, FAN)
            .told(50, new Happening.Wiping())
            .wipe(50, 4, 60)
            .job(55, 240, 10)
            .laminate(65, 30, 1));
    to.add(
        new Scenario("hand gel at the bench", 180, AJAR)
            .source(new Source.Wipe(Vapor.ETHANOL, 3600, 0.8, 45)));
  }

  private static void starts(List<Scenario> to) {
    to.add(new Scenario("cold start, clean", 360, SHUT).climate(10, 2, 70, -4, 5).cold());
    to.add(new Scenario("cold start in bad air", 180, SHUT).cold().startsAt(400));
    to.add(shutGarage("restart in bad air, chip warm").fault(Trouble.PROGRAM_DOWN, 120, 120.5, 1));
    to.add(shutGarage("restart in bad air, chip cold").fault(Trouble.NO_POWER, 120, 125, 1));
    to.add(shutGarage("restart as it fills").fault(Trouble.PROGRAM_DOWN, 64, 64.5, 1));
    to.add(shutGarage("power fails before, back in bad air").fault(Trouble.NO_POWER, 30, 100, 1));
    to.add(
        shutGarage("dashboard restarts in bad air").told(120, new Happening.DashboardRestarted()));
    to.add(
        new Scenario("power fails, clean day", 720, AJAR)
            .fault(Trouble.NO_POWER, 120, 121, 1)
            .fault(Trouble.NO_POWER, 400, 440, 1));
  }

  private static void troubles(List<Scenario> to) {
    to.add(shutGarage("unplugged before, back in bad air").fault(Trouble.UNPLUGGED, 30, 110, 1));
    to.add(shutGarage("unplugged in bad air, for good").fault(Trouble.UNPLUGGED, 90, 400, 1));
    to.add(shutGarage("1 read in 100 fails").fault(Trouble.FAILED_READS, 0, 400, 0.01));
    to.add(shutGarage("1 read in 20 fails").fault(Trouble.FAILED_READS, 0, 400, 0.05));
    to.add(shutGarage("1 read in 200 wrong").fault(Trouble.WRONG_READS, 0, 400, 0.005));
    to.add(
        new Scenario("wrong reads, clean", 2 * DAY, 1)
            .fault(Trouble.WRONG_READS, 0, ALWAYS, 0.002));
    to.add(shutGarage("stuck as it fills").fault(Trouble.STUCK, 58, 100, 1));
    to.add(shutGarage("air sensor silent").fault(Trouble.NO_CLIMATE, 45, 400, 1));
  }

  private static void chips(List<Scenario> to) {
    to.add(shutGarage("flat end, no job").flatAt(12));
    to.add(shutGarage("flat end, job").flatAt(12).job(50, 300, 10));
    to.add(
        new Scenario("flat end, aired job", 360, FAN)
            .flatAt(12)
            .job(50, 240, 10)
            .laminate(60, 30, 1));
    to.add(shutGarage("poisoned to a half").poisonedTo(0.5));
    to.add(shutGarage("poisoned to a tenth").poisonedTo(0.1));
    to.add(shutGarage("drifted 400 toward clean").drifted(-400));
    to.add(new Scenario("drifted 400 toward vapor, clean", DAY, 1).drifted(400));
  }

  private static void places(List<Scenario> to) {
    to.add(new Scenario("two devices", 420, SHUT).withHouse().laminate(60, 30, 2));
    to.add(
        new Scenario("two devices, shop's unplugged", 420, SHUT)
            .withHouse()
            .laminate(60, 30, 2)
            .fault(Trouble.UNPLUGGED, 30, 400, 1));
    to.add(
        new Scenario("two devices, aired job", 360, FAN)
            .withHouse()
            .job(50, 240, 10)
            .laminate(60, 30, 1));
    to.add(shutGarage("sensor far from the work").place(0, 1));
    to.add(
        new Scenario("over the work, fan, sensor far", 360, FAN)
            .place(0, 1)
            .beta(3)
            .job(50, 240, 10)
            .gelCoat(60, 15, 1));
    to.add(shutGarage("stirred air").beta(30));
    to.add(new Scenario("limit 100, shut", 360, SHUT).limit(100).laminate(60, 30, 3));
    to.add(new Scenario("limit 10, shut", 360, SHUT).limit(10).laminate(60, 30, 1));
    to.add(
        new Scenario("limit 50, aired job", 360, FAN)
            .limit(50)
            .job(50, 240, 10)
            .laminate(60, 30, 1));
  }

  private static void days(List<Scenario> to) {
    to.add(quiet("quiet days, spring").climate(16, 3, 55, -3, 8));
    to.add(quiet("damp spring").climate(13, 4, 82, -2, 8));
    to.add(quiet("hot dry days").climate(28, 6, 32, 1, 0));
    to.add(quiet("winter, heated by day").climate(12, 7, 50, -8, 10));
    Scenario weekends = quiet("weekends away").climate(17, 3, 58, -5, 8);
    Scenario often = quiet("aired jobs, every other day").climate(19, 2, 55, -5, 8);
    for (int day : new int[] {0, 5, 6}) {
      airedEvening(weekends, day);
    }
    for (int day = 0; day < 10; day += 2) {
      airedEvening(often, day);
    }
    to.add(weekends);
    to.add(often);
  }

  private static Scenario quiet(String name) {
    return new Scenario(name, 10 * DAY, 1).step(20).hour(0).cleanAir(5 * DAY + 600);
  }

  private static void airedEvening(Scenario to, int day) {
    double start = day * DAY + 1080.0;
    to.air(start - 15, FAN)
        .job(start - 10, start + 200, 10)
        .wipe(start, 2, 60)
        .laminate(start + 10, 25, 0.8)
        .wipe(start + 60, 3, 60)
        .air(start + 300, 1);
  }
}
