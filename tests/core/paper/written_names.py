"""Names in scripts that must be shaped, one a script at least; invented from common given names and surnames."""

__all__ = ["NAMES"]

NAMES = {
    "Arabic": "محمد الحسيني",
    "Persian": "نیلوفر می‌خواهم",
    "Urdu": "عائشہ چوہدری",
    "Hebrew": "שרה לוי",
    "pointed Hebrew": "דָּוִד כֹּהֵן",
    "Devanagari": "श्रीकृष्ण त्रिवेदी",
    "Bengali": "রবীন্দ্রনাথ চৌধুরী",
    "Gurmukhi": "ਗੁਰਪ੍ਰੀਤ ਸਿੰਘ",
    "Gujarati": "કૃષ્ણકાન્ત પટેલ",
    "Tamil": "கிருஷ்ணன் சுப்பிரமணியம்",
    "Thai": "สมศักดิ์ พิทักษ์ไทย",
    "marks over Latin": "M̈arika X̌ǫ́",
}
