@echo off
rem Lets books open by a double click, for this user alone.
setlocal
set "here=%~dp0"
set "classes=HKCU\Software\Classes"
reg add "%classes%\.countback" /ve /d Countback.Book /f >nul || exit /b 1
reg add "%classes%\Countback.Book" /ve /d "Countback book" /f >nul || exit /b 1
reg add "%classes%\Countback.Book\DefaultIcon" /ve /d "%here%countback-window.exe,0" /f >nul || exit /b 1
reg add "%classes%\Countback.Book\shell\open\command" /ve /d "\"%here%countback-window.exe\" \"%%1\"" /f >nul || exit /b 1
echo Books now open with Countback.
