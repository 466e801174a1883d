# Controller boards. A pin is "good" as a data output, wants "care" because it has
# another duty, or is "never" to be used. Every GPIO of the chip is listed, by the
# number its maker gives it; a board may not bring all of them out.
#
# pixels is a sensible most at 30 to 40 frames a second: one output of 800 kbit/s
# refreshes 824 RGB pixels 40 times a second (24 bits x 1.25 us each, 280 us of
# latch), and memory and effects set the rest (common practice, no source).

board "esp32_devkit" {
  chip          = "ESP32"
  logic         = "3.3 V"
  input_voltage = ["5 V"]
  needs         = "250 mA"
  lanes         = 8
  pixels        = 2000
  source        = "pins: ESP-IDF Programming Guide, GPIO page for ESP32; levels at power-on: secondary notes; pins 0 and 15 moving and the effect of 12: chip datasheet, from memory. lanes: 8 RMT channels, SoC capability header. logic: chip datasheet, from memory. needs: common practice, no source (average while sending by radio). input_voltage: the 5 V pin; the regulator overheats well above it (common practice, no source). pixels: common practice, no source"

  pin "0" {
    use     = "care"
    because = "strapping pin: must be high or open at reset, low starts the serial loader; moves at power-on"
  }
  pin "1" {
    use     = "care"
    because = "serial port TX: prints the boot log, which flickers as pixels, and is needed to load firmware"
  }
  pin "2" {
    use     = "care"
    because = "strapping pin: must be low or open when firmware is loaded; often drives the lamp on the board"
  }
  pin "3" {
    use     = "care"
    because = "serial port RX: driven by the USB converter of the board and needed to load firmware"
  }
  pin "4" { use = "good" }
  pin "5" {
    use     = "care"
    because = "strapping pin: gives a low pulse of about 200 ms at power-on"
  }
  pin "6" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "7" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "8" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "9" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "10" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "11" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "12" {
    use     = "care"
    because = "strapping pin: a high level at reset selects 1.8 V for the flash memory and the board does not start; only with nothing that pulls it up"
  }
  pin "13" { use = "good" }
  pin "14" {
    use     = "care"
    because = "gives a high pulse of about 600 ms at power-on, which the first pixels may show"
  }
  pin "15" {
    use     = "care"
    because = "strapping pin: a low level at reset silences the boot log; moves at power-on"
  }
  pin "16" {
    use     = "care"
    because = "serves the extra memory (PSRAM) on modules that have it, where it must not be used; free on others"
  }
  pin "17" {
    use     = "care"
    because = "serves the extra memory (PSRAM) on modules that have it, where it must not be used; free on others"
  }
  pin "18" { use = "good" }
  pin "19" { use = "good" }
  pin "21" { use = "good" }
  pin "22" { use = "good" }
  pin "23" { use = "good" }
  pin "25" { use = "good" }
  pin "26" { use = "good" }
  pin "27" { use = "good" }
  pin "32" { use = "good" }
  pin "33" { use = "good" }
  pin "34" {
    use     = "never"
    because = "input only, it has no output driver"
  }
  pin "35" {
    use     = "never"
    because = "input only, it has no output driver"
  }
  pin "36" {
    use     = "never"
    because = "input only, it has no output driver"
  }
  pin "37" {
    use     = "never"
    because = "input only, it has no output driver"
  }
  pin "38" {
    use     = "never"
    because = "input only, it has no output driver"
  }
  pin "39" {
    use     = "never"
    because = "input only, it has no output driver"
  }
}

board "esp8266_board" {
  chip          = "ESP8266"
  logic         = "3.3 V"
  input_voltage = ["5 V"]
  needs         = "200 mA"
  lanes         = 2
  pixels        = 500
  source        = "pins at boot: esptool documentation, boot mode selection, and ESP8266 boot-process notes; free pins and pin 16: a secondary table. lanes: UART1 on pin 2 (datasheet) and I2S on pin 3 (from memory); other pins are timed by software, one after another. needs, input_voltage, pixels (radio and memory are shared): common practice, no source"

  pin "0" {
    use     = "care"
    because = "strapping pin: must be high at boot, low starts the serial loader"
  }
  pin "1" {
    use     = "care"
    because = "serial port TX: prints the boot log and is needed to load firmware; with hardware timing (UART0)"
  }
  pin "2" {
    use     = "good"
    because = "the second serial port sends pixels here with hardware timing (UART1); must be high at boot, which the input of a buffer or strip leaves it"
  }
  pin "3" {
    use     = "care"
    because = "serial port RX: driven by the USB converter; the audio port sends pixels here with hardware timing (I2S), which is the best output once firmware is loaded"
  }
  pin "4" { use = "good" }
  pin "5" { use = "good" }
  pin "6" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "7" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "8" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "9" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "10" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "11" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "12" { use = "good" }
  pin "13" { use = "good" }
  pin "14" { use = "good" }
  pin "15" {
    use     = "care"
    because = "strapping pin: must be low at boot"
  }
  pin "16" {
    use     = "care"
    because = "belongs to the clock unit: high at boot, no pulse-width output, wakes the chip from sleep; many drivers cannot use it"
  }
}

board "esp32_c3_board" {
  chip          = "ESP32-C3"
  logic         = "3.3 V"
  input_voltage = ["5 V"]
  needs         = "250 mA"
  lanes         = 2
  pixels        = 1000
  source        = "pins: ESP-IDF Programming Guide, GPIO page for ESP32-C3; boot levels: the chip maker's book, table 5.5; UART0 and VDD_SPI on pin 11: from memory. lanes: 2 RMT transmitters, Arduino-ESP32 board page. needs, input_voltage, pixels (one core): common practice, no source"

  pin "0" { use = "good" }
  pin "1" { use = "good" }
  pin "2" {
    use     = "care"
    because = "strapping pin: must be high at boot"
  }
  pin "3" { use = "good" }
  pin "4" { use = "good" }
  pin "5" { use = "good" }
  pin "6" { use = "good" }
  pin "7" { use = "good" }
  pin "8" {
    use     = "care"
    because = "strapping pin: must be high when firmware is loaded; often drives the lamp on the board"
  }
  pin "9" {
    use     = "care"
    because = "strapping pin: low at boot starts the serial loader; it is the boot button"
  }
  pin "10" { use = "good" }
  pin "11" {
    use     = "never"
    because = "supplies the flash memory (VDD_SPI)"
  }
  pin "12" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "13" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "14" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "15" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "16" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "17" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "18" {
    use     = "care"
    because = "USB D-: used to load firmware and for the log on boards without a converter"
  }
  pin "19" {
    use     = "care"
    because = "USB D+: used to load firmware and for the log on boards without a converter; pulled up at boot"
  }
  pin "20" {
    use     = "care"
    because = "serial port RX: driven by the USB converter, where the board has one"
  }
  pin "21" {
    use     = "care"
    because = "serial port TX: prints the boot log"
  }
}

board "esp32_s3_board" {
  chip          = "ESP32-S3"
  logic         = "3.3 V"
  input_voltage = ["5 V"]
  needs         = "300 mA"
  lanes         = 4
  pixels        = 2000
  source        = "pins: ESP-IDF Programming Guide, GPIO page for ESP32-S3; UART0, 48 and what the strapping pins do: from memory. lanes: 4 RMT transmitters, chip datasheet, from memory. needs, input_voltage, pixels: common practice, no source"

  pin "0" {
    use     = "care"
    because = "strapping pin: low at boot starts the serial loader; it is the boot button"
  }
  pin "1" { use = "good" }
  pin "2" { use = "good" }
  pin "3" {
    use     = "care"
    because = "strapping pin: chooses where the debugger connects"
  }
  pin "4" { use = "good" }
  pin "5" { use = "good" }
  pin "6" { use = "good" }
  pin "7" { use = "good" }
  pin "8" { use = "good" }
  pin "9" { use = "good" }
  pin "10" { use = "good" }
  pin "11" { use = "good" }
  pin "12" { use = "good" }
  pin "13" { use = "good" }
  pin "14" { use = "good" }
  pin "15" { use = "good" }
  pin "16" { use = "good" }
  pin "17" { use = "good" }
  pin "18" { use = "good" }
  pin "19" {
    use     = "care"
    because = "USB D-: used to load firmware and for the log on boards without a converter"
  }
  pin "20" {
    use     = "care"
    because = "USB D+: used to load firmware and for the log on boards without a converter"
  }
  pin "21" { use = "good" }
  pin "26" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "27" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "28" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "29" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "30" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "31" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "32" {
    use     = "never"
    because = "connected to the flash memory"
  }
  pin "33" {
    use     = "care"
    because = "serves the memory on modules with eight data lines, where it must not be used; free on others"
  }
  pin "34" {
    use     = "care"
    because = "serves the memory on modules with eight data lines, where it must not be used; free on others"
  }
  pin "35" {
    use     = "care"
    because = "serves the memory on modules with eight data lines, where it must not be used; free on others"
  }
  pin "36" {
    use     = "care"
    because = "serves the memory on modules with eight data lines, where it must not be used; free on others"
  }
  pin "37" {
    use     = "care"
    because = "serves the memory on modules with eight data lines, where it must not be used; free on others"
  }
  pin "38" { use = "good" }
  pin "39" { use = "good" }
  pin "40" { use = "good" }
  pin "41" { use = "good" }
  pin "42" { use = "good" }
  pin "43" {
    use     = "care"
    because = "serial port TX: prints the boot log"
  }
  pin "44" {
    use     = "care"
    because = "serial port RX: driven by the USB converter, where the board has one"
  }
  pin "45" {
    use     = "care"
    because = "strapping pin: sets the voltage of the flash memory, must be low or open at reset"
  }
  pin "46" {
    use     = "care"
    because = "strapping pin: must be low or open when firmware is loaded"
  }
  pin "47" { use = "good" }
  pin "48" {
    use     = "care"
    because = "often drives the single pixel on the board"
  }
}

board "rp2040_board" {
  chip          = "RP2040"
  logic         = "3.3 V"
  input_voltage = ["5 V"]
  needs         = "100 mA"
  lanes         = 8
  pixels        = 2000
  source        = "RP2040 Datasheet: 30 GPIOs, tables 632 and 636; pins brought out by the usual board: from memory. lanes: 8 PIO state machines in two blocks. All outputs together give at most 50 mA (5.2.3.5). needs, input_voltage (1.8 to 5.5 V), pixels: common practice, no source"

  pin "0" { use = "good" }
  pin "1" { use = "good" }
  pin "2" { use = "good" }
  pin "3" { use = "good" }
  pin "4" { use = "good" }
  pin "5" { use = "good" }
  pin "6" { use = "good" }
  pin "7" { use = "good" }
  pin "8" { use = "good" }
  pin "9" { use = "good" }
  pin "10" { use = "good" }
  pin "11" { use = "good" }
  pin "12" { use = "good" }
  pin "13" { use = "good" }
  pin "14" { use = "good" }
  pin "15" { use = "good" }
  pin "16" { use = "good" }
  pin "17" { use = "good" }
  pin "18" { use = "good" }
  pin "19" { use = "good" }
  pin "20" { use = "good" }
  pin "21" { use = "good" }
  pin "22" { use = "good" }
  pin "23" {
    use     = "care"
    because = "on the usual board it sets the mode of the regulator and is not brought out"
  }
  pin "24" {
    use     = "care"
    because = "on the usual board it senses USB power and is not brought out"
  }
  pin "25" {
    use     = "care"
    because = "on the usual board it drives the lamp and is not brought out"
  }
  pin "26" { use = "good" }
  pin "27" { use = "good" }
  pin "28" { use = "good" }
  pin "29" {
    use     = "care"
    because = "on the usual board it measures the supply and is not brought out"
  }
}

board "avr_328p_5v_board" {
  chip          = "ATmega328P"
  logic         = "5 V"
  input_voltage = ["5 V", "9 V", "12 V"]
  needs         = "50 mA"
  lanes         = 1
  pixels        = 500
  source        = "pins are the numbers on the usual board: 0-7 port D, 8-13 port B, 14-19 port C (ATmega48/88/168/328 datasheet 8271H; board from memory). lanes: timed by software, one output after another. pixels: 2 KiB of memory hold 682 RGB pixels, about 500 beside a program (from memory). needs: common practice, no source. input_voltage: 5 V on the 5 V pin, 7 to 12 V through the regulator (from memory)"

  pin "0" {
    use     = "care"
    because = "serial port RX: driven by the USB converter and needed to load firmware"
  }
  pin "1" {
    use     = "care"
    because = "serial port TX: carries the serial log and is needed to load firmware"
  }
  pin "2" { use = "good" }
  pin "3" { use = "good" }
  pin "4" { use = "good" }
  pin "5" { use = "good" }
  pin "6" { use = "good" }
  pin "7" { use = "good" }
  pin "8" { use = "good" }
  pin "9" { use = "good" }
  pin "10" { use = "good" }
  pin "11" { use = "good" }
  pin "12" { use = "good" }
  pin "13" {
    use     = "care"
    because = "drives the lamp on the board, which the loader blinks at power-on"
  }
  pin "14" { use = "good" }
  pin "15" { use = "good" }
  pin "16" { use = "good" }
  pin "17" { use = "good" }
  pin "18" { use = "good" }
  pin "19" { use = "good" }
}
