@echo off
rem Takes back what register.cmd wrote.
reg delete "HKCU\Software\Classes\.countback" /f >nul
reg delete "HKCU\Software\Classes\Countback.Book" /f >nul
echo Books no longer open with Countback.
