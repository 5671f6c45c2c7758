// SPDX-License-Identifier: GPL-2.0
/*
 * bench_w1: a 1-wire bus with two DS18B20 thermometers, neither of which exists.
 *
 * A program of its own, used only by Layroom's tests on an emulated Raspberry Pi. The kernel's own
 * w1 core and w1_therm driver talk to it byte by byte, as the DS18B20 sheet says. Temperatures and
 * faults are set while it runs, in /sys/module/bench_w1/parameters, as a list: mold, then can.
 */
#include <linux/module.h>
#include <linux/w1.h>

#define FITTED 2

static int sixteenths[FITTED] = { 0x0191, 0x00a2 };
module_param_array(sixteenths, int, NULL, 0644);
MODULE_PARM_DESC(sixteenths, "temperatures in 1/16 degC");
static int damaged[FITTED];
module_param_array(damaged, int, NULL, 0644);
MODULE_PARM_DESC(damaged, "1: its check byte is wrong");
static int absent[FITTED];
module_param_array(absent, int, NULL, 0644);
MODULE_PARM_DESC(absent, "1: unplugged");

/* 28-00000a5e0001 and 28-00000a5e0002; the first byte on the wire is the family code */
static u8 rom[FITTED][8] = {
	{ 0x28, 0x01, 0x00, 0x5e, 0x0a, 0x00, 0x00 },
	{ 0x28, 0x02, 0x00, 0x5e, 0x0a, 0x00, 0x00 },
};
static u8 settings[FITTED][3] = { { 0x4b, 0x46, 0x7f }, { 0x4b, 0x46, 0x7f } };

enum phase { ROM_COMMAND, MATCHING, FUNCTION, SETTINGS, IDLE };
static enum phase phase;
static u8 matched[8], reply[9];
static int count, chosen, reply_length, reply_at;

static u8 maxim_crc(const u8 *bytes, int length)
{
	u8 crc = 0;
	int i, bit;

	for (i = 0; i < length; i++) {
		crc ^= bytes[i];
		for (bit = 0; bit < 8; bit++)
			crc = crc & 1 ? crc >> 1 ^ 0x8c : crc >> 1;
	}
	return crc;
}

static int who(const u8 *wanted)
{
	int i;

	for (i = 0; i < FITTED; i++)
		if (!absent[i] && !memcmp(wanted, rom[i], 8))
			return i;
	return -1;
}

static u8 bench_reset(void *data)
{
	int i;

	phase = ROM_COMMAND;
	chosen = -1;
	reply_length = 0;
	for (i = 0; i < FITTED; i++)
		if (!absent[i])
			return 0;
	return 1;
}

static void scratchpad(void)
{
	int i = chosen;

	reply[0] = sixteenths[i];
	reply[1] = sixteenths[i] >> 8;
	memcpy(reply + 2, settings[i], 3);
	reply[5] = 0xff;
	reply[6] = 0x0c;
	reply[7] = 0x10;
	reply[8] = maxim_crc(reply, 8) ^ (damaged[i] ? 0x10 : 0);
	reply_length = 9;
}

static void rom_command(u8 command)
{
	int i;

	phase = IDLE;
	count = 0;
	if (command == 0x55)
		phase = MATCHING;
	if (command != 0xcc)
		return;
	for (i = 0; i < FITTED && chosen < 0; i++)
		if (!absent[i])
			chosen = i;
	phase = FUNCTION;
}

static void function(u8 command)
{
	phase = IDLE;
	count = 0;
	reply_at = 0;
	reply_length = 0;
	if (chosen < 0)
		return;
	if (command == 0xbe)
		scratchpad();
	else if (command == 0x4e)
		phase = SETTINGS;
}

static void bench_write(void *data, u8 byte)
{
	switch (phase) {
	case ROM_COMMAND:
		rom_command(byte);
		break;
	case MATCHING:
		matched[count++] = byte;
		if (count == 8) {
			chosen = who(matched);
			phase = FUNCTION;
		}
		break;
	case FUNCTION:
		function(byte);
		break;
	case SETTINGS:
		if (count < 3)
			settings[chosen][count++] = byte;
		break;
	case IDLE:
		break;
	}
}

static u8 bench_read(void *data)
{
	return reply_at < reply_length ? reply[reply_at++] : 0xff;
}

/* Nobody pulls the wire down: conversions are over, and no thermometer lives off the wire. */
static u8 bench_touch(void *data, u8 bit)
{
	return 1;
}

static void bench_search(void *data, struct w1_master *master, u8 type,
			 w1_slave_found_callback found)
{
	u64 name;
	int i, byte;

	for (i = 0; i < FITTED; i++) {
		if (absent[i])
			continue;
		name = 0;
		for (byte = 7; byte >= 0; byte--)
			name = name << 8 | rom[i][byte];
		found(master, name);
	}
}

static struct w1_bus_master bus = {
	.read_byte = bench_read, .write_byte = bench_write, .reset_bus = bench_reset,
	.touch_bit = bench_touch, .search = bench_search, .dev_id = "bench",
};

static int __init plug_in(void)
{
	int i;

	for (i = 0; i < FITTED; i++)
		rom[i][7] = maxim_crc(rom[i], 7);
	return w1_add_master_device(&bus);
}

static void __exit pull_out(void)
{
	w1_remove_master_device(&bus);
}

module_init(plug_in);
module_exit(pull_out);
MODULE_DESCRIPTION("1-wire bus with two simulated DS18B20");
MODULE_LICENSE("GPL");
